//! Twelve projects of 24 to 450 parts (`tests/layouts`: sheets of 8 x 4 ft, 2440 x 1220 and square, with and without grain, several
//! stocks, lots, offcuts and boards): what more kinds of cuts save, that nothing costs more for them, and that all of it can be
//! sawn.

use crate::compiled;
use crate::sawn::{list, mm, saw_boards, saw_sheets};
use scantling::breakdown::{Effort, Sawn, SheetWork, sheet_works};
use scantling::compile::Compilation;
use scantling::cutting::{Axis, First, Job, Plan, Rules, plan, verify};
use scantling::sheets::{Project, Together, sheet};
use serde_json::Value;
use std::collections::BTreeMap;

/// What each took when layouts knew rips and crosscuts alone: sheets bought, by stock in the order of its name.
const BEFORE: [(&str, &[u64]); 12] = [
    ("academy", &[24]),
    ("archive", &[27]),
    ("attic", &[8]),
    ("deep", &[18]),
    ("library", &[21]),
    ("loft", &[7]),
    ("lots", &[2, 2, 3, 2]),
    ("mixed", &[11, 7]),
    ("porch", &[3]),
    ("shop", &[13]),
    ("square_free", &[15]),
    ("studio", &[7]),
];

fn project(name: &str) -> Compilation {
    let of = compiled(&format!("tests/layouts/{name}.scant"));
    assert!(!of.has_errors(), "{name}");
    of
}

fn works(of: &Compilation) -> Vec<SheetWork> {
    sheet_works(&of.model, &of.graph, Effort::Quick)
}

/// The plan by rips and crosscuts alone, each rip the whole length and not ripped again.
fn alone(job: &Job) -> Plan {
    let rules = Rules { first: First::Rip, trimming: false, plain: false, ..job.rules };
    plan(&Job { rules, ..job.clone() }, Effort::Quick).unwrap()
}

#[test]
fn nothing_costs_more_than_by_rips_and_crosscuts_alone() {
    let (mut parts, mut saved) = (0, 0);
    for (name, before) in BEFORE {
        let of = project(name);
        parts += of.graph.parts.len();
        let works = works(&of);
        assert_eq!(works.len(), before.len(), "{name}");
        for (work, before) in works.iter().zip(before) {
            let plan = work.plan.as_ref().unwrap();
            assert_eq!(verify(&work.job, plan), [], "{name}");
            // Of two sizes for sale more of the smaller may cost less: money decides, and where it is one size that is sheets.
            assert!(plan.cost <= alone(&work.job).cost, "{name}");
            let bought = work.bought(plan);
            assert!(!work.counts_sheets() || bought <= *before, "{name}: {bought} sheets, {before} before");
            saved += before.saturating_sub(bought);
            // What rips and crosscuts alone would take is told where it is more, and only there.
            let plainer = work.plainer.as_ref().map(|plainer| plainer.cost > plan.cost);
            assert_ne!(plainer, Some(false), "{name}");
        }
    }
    assert!(parts > 1500, "{parts} parts");
    // Two of `deep`, whose sheets are cut across first, and one of the first lot of `lots`, where two pieces are trimmed.
    assert!(saved >= 3, "{saved} sheets saved");
}

#[test]
fn each_is_sawn_again_and_each_sheet_is_the_sum_of_what_becomes_of_it() {
    for (name, stocks) in BEFORE {
        let of = project(name);
        assert_eq!(saw_sheets(&of, Effort::Quick), stocks.len(), "{name}");
        saw_boards(&of, Effort::Quick);
        for work in works(&of) {
            for pattern in &work.plan.as_ref().unwrap().patterns {
                let sheet = &work.job.sheets[pattern.sheet];
                let sawn = Sawn::of(sheet, pattern, work.job.rules.kerf);
                assert_eq!(sawn.whole(), i128::from(sheet.width) * i128::from(sheet.height), "{name}");
            }
        }
    }
}

/// A saw that may do less gives a plan that holds under its rules, and says so.
#[test]
fn a_saw_says_which_cuts_it_makes() {
    let text = std::fs::read_to_string(crate::root().join("tests/layouts/deep.scant")).unwrap();
    let of = |cuts: &str| {
        let text = text.replace("saw table { kerf = 1/8\" }", &format!("saw table {{ kerf = 1/8\"{cuts} }}"));
        crate::compiled_text(&text)
    };
    let mut sheets = BTreeMap::new();
    for (cuts, words) in [
        (", cuts = []", "no layout of rips and crosscuts does it in"),
        (", cuts = [trim]", "no layout of rips, crosscuts and trims does it in"),
        (", cuts = [across]", "no layout of rips and crosscuts in either order does it in"),
        ("", "no layout of rips and crosscuts in either order, with trims, does it in"),
    ] {
        let of = of(cuts);
        let work = works(&of).remove(0);
        let plan = work.plan.as_ref().unwrap();
        assert_eq!(verify(&work.job, plan), [], "{cuts}");
        assert!(work.proof(&of.model, plan).contains(words), "{}", work.proof(&of.model, plan));
        let across = plan.patterns.iter().any(|pattern| pattern.first == Axis::Vertical);
        assert!(!across || cuts.is_empty() || cuts.contains("across"), "{cuts}");
        sheets.insert(cuts, work.bought(plan));
    }
    assert_eq!(sheets[", cuts = []"], 18);
    assert_eq!(sheets[""], 16);
    assert!(sheets[", cuts = [trim]"] <= 18 && sheets[", cuts = [across]"] <= 18);
    // Of two saws, what either of them may do.
    let table = "saw table { kerf = 1/8\" }";
    let both = "saw table { kerf = 1/8\", cuts = [] }\nsaw track { cuts = [across] }";
    let two = crate::compiled_text(&text.replace(table, both));
    assert!(
        works(&two)[0]
            .proof(&two.model, works(&two)[0].plan.as_ref().unwrap())
            .contains("in either order does")
    );
}

fn json(of: &Compilation, name: &str) -> Value {
    (sheet(name).unwrap().make)(of.subject(Effort::Quick)).json.value()
}

/// The list of the whole work has every cut of every sheet once, each setting once, largest first.
#[test]
fn the_work_over_all_sheets_is_that_of_the_sheets_together() {
    for (name, _) in BEFORE {
        let of = project(name);
        let (layouts, sawing) = (json(&of, "layouts"), json(&of, "sawing"));
        // How many cuts each setting makes, by the layouts: of strips as many as `N rips` says, of pieces one each.
        let mut cuts: BTreeMap<(String, String), u64> = BTreeMap::new();
        let mut pieces = 0;
        for pattern in list(&layouts["groups"]).iter().flat_map(|group| list(&group["patterns"])) {
            let count = pattern["count"].as_u64().unwrap();
            let steps = list(&pattern["steps"]);
            let across = steps.iter().any(|step| step["cut"] == "across");
            let exact = |step: &Value| step["setting"]["exact"].as_str().unwrap().to_owned();
            let first = if across { "across" } else { "rip" };
            let mut add = |cut: &str, step: &Value, times: u64| {
                *cuts.entry((cut.to_owned(), exact(step))).or_default() += times * count;
            };
            for step in steps {
                let cut = step["cut"].as_str().unwrap();
                if cut == "skim" {
                    add("skim", step, 1);
                } else if cut == first {
                    let strips = step["gives"].as_str().unwrap().split(' ').next().unwrap();
                    add(cut, step, strips.parse().unwrap());
                }
            }
            for piece in list(&pattern["pieces"]) {
                pieces += count;
                let step = |number: u64| &steps[usize::try_from(number).unwrap() - 1];
                let off = step(piece["step"].as_u64().unwrap());
                add(off["cut"].as_str().unwrap(), off, 1);
                if let Some(trim) = piece["trim"].as_u64() {
                    // What a sheet that is cut across first has trimmed is cut at the stop.
                    add(if across { "crosscut" } else { "trim" }, step(trim), 1);
                }
            }
        }
        let steps = list(&sawing["steps"]);
        let told: BTreeMap<(String, String), u64> = steps
            .iter()
            .map(|step| {
                let text = |value: &Value| value.as_str().unwrap().to_owned();
                ((text(&step["cut"]), text(&step["setting"]["exact"])), step["count"].as_u64().unwrap())
            })
            .collect();
        assert_eq!(told, cuts, "{name}");
        assert_eq!(steps.len(), told.len(), "{name}: a setting is made twice");
        let order = ["skim", "across", "rip", "crosscut", "trim"];
        let place = |step: &Value| order.iter().position(|cut| step["cut"] == *cut).unwrap();
        for pair in steps.windows(2) {
            let (a, b) = (place(&pair[0]), place(&pair[1]));
            assert!(a < b || a == b && mm(&pair[0]["setting"]) > mm(&pair[1]["setting"]), "{name}");
        }
        let mut given = 0;
        for step in steps {
            let from: u64 = list(&step["from"]).iter().map(|from| from["cuts"].as_u64().unwrap()).sum();
            assert_eq!(from, step["count"].as_u64().unwrap(), "{name}");
            for given_here in list(&step["gives"]) {
                let count = given_here["count"].as_u64().unwrap();
                let what = given_here["what"].as_str().unwrap();
                if !["sheet", "rip", "piece"].contains(&what) {
                    let units: u64 =
                        list(&given_here["units"]).iter().map(|unit| unit["count"].as_u64().unwrap()).sum();
                    assert_eq!(units + given_here["spares"].as_u64().unwrap(), count, "{name} {what}");
                    let later = given_here["trim"] == true;
                    let again = step["cut"] == "trim";
                    given += if later || again { 0 } else { count };
                }
            }
        }
        // Each piece comes off once; those that are trimmed are counted where that is done.
        assert!(given <= pieces && given > 0, "{name}");
    }
}

/// Twenty-four units 11 7/8 in deep take 24 sheets: four rips and three cuts of 1/8 in want 4 x 11 7/8 + 3/8 = 47 7/8, and 48 less 1/16
/// (PS 1-19) less a skim of 1/8 is 47 13/16. With 4 x 11 27/32 + 3/8 = 47 3/4 a fourth rip fits.
#[test]
fn a_near_miss_is_named_with_what_it_saves() {
    let units: String = (0..24).map(|unit| format!("unit u{unit}\n")).collect();
    let school = |depth: &str| {
        crate::compiled_text(&format!(
            "project \"School\" {{ marks = 1/32\" }}\n\
             sheet ply {{ size = 96\" x 48\", thickness = 23/32\", skim = 1/8\", price = 74 USD }}\n\
             saw table {{ kerf = 1/8\" }}\n\
             stick lines {{ floor = 3\", a = 15\", b = 27\", top = 39 1/2\" }}\n\
             run s {{ each unit {{ stock = ply, width = 35 7/8\", height = 42\", depth = {depth}, shelves = lines, \
             stretcher bottom, cleat {{ height = 3\" }} }}\n{units}}}\n"
        ))
    };
    let of = school("11 7/8\"");
    let told = of.diagnostics.iter().find(|told| told.code.id == "C127").unwrap();
    assert_eq!(told.message, "unit depth 11 27/32\" in place of 11 7/8\": 22 sheets of `ply` in place of 24");
    let layouts = json(&of, "layouts");
    let near = &layouts["groups"][0]["near_misses"][0];
    assert_eq!((near["sheets"].as_u64(), near["saved"].as_str()), (Some(22), Some("148.00 USD")));
    let text = scantling::render::text(&(sheet("layouts").unwrap().make)(of.subject(Effort::Quick)).document);
    assert!(text.contains("22 sheets in place of 24"), "{text}");
    // It is so: both at the size that is named and at the next sixteenth.
    for depth in ["11 27/32\"", "11 13/16\""] {
        let less = school(depth);
        let work = works(&less).remove(0);
        assert_eq!(work.bought(work.plan.as_ref().unwrap()), 22, "{depth}");
        assert!(less.diagnostics.iter().all(|told| told.code.id != "C127"), "{depth}");
    }
    // A size that follows from others by an expression is not offered.
    let worked = school("11 1/2\" + 3/8\"");
    assert!(worked.diagnostics.iter().all(|told| told.code.id != "C127"));
}

/// What a check tells of a small change, `layouts` tells too, with no more sheets; and the project with that change takes as few.
#[test]
fn layouts_has_each_near_miss_that_a_check_tells() {
    for (name, change, sheets) in [("studio", ("290mm", "286mm"), 6), ("shop", ("11 1/4\"", "11 3/16\""), 12)]
    {
        let of = project(name);
        let told: Vec<&str> =
            of.diagnostics.iter().filter(|told| told.code.id == "C127").map(|told| &*told.message).collect();
        let [told] = told.as_slice() else { panic!("{name}: {told:?}") };
        for effort in [Effort::Quick, Effort::Normal] {
            let layouts = (sheet("layouts").unwrap().make)(of.subject(effort)).json.value();
            let near = list(&layouts["groups"][0]["near_misses"]);
            let same = near.iter().find(|near| {
                let what = format!(
                    "{} {} in place of {}",
                    near["what"].as_str().unwrap(),
                    near["to"]["print"].as_str().unwrap(),
                    near["from"]["print"].as_str().unwrap()
                );
                told.starts_with(&what)
            });
            let count =
                same.unwrap_or_else(|| panic!("{name}: {told}; {near:?}"))["sheets"].as_u64().unwrap();
            assert!(count <= sheets && told.contains(&format!(": {sheets} sheets")), "{name}: {told}");
        }
        let text =
            std::fs::read_to_string(crate::root().join(format!("tests/layouts/{name}.scant"))).unwrap();
        assert_eq!(text.matches(&format!("depth = {}", change.0)).count(), 1, "{name}");
        let less = crate::compiled_text(
            &text.replace(&format!("depth = {}", change.0), &format!("depth = {}", change.1)),
        );
        let work = works(&less).remove(0);
        assert_eq!(work.bought(work.plan.as_ref().unwrap()), sheets, "{name}");
    }
}

/// `on_hand` counts where only sizes that are sold are stated: of the largest of them.
#[test]
fn sheets_on_hand_of_a_size_that_is_sold_are_used_first() {
    let text = |on_hand: u32| {
        format!(
            "sheet ply {{\n  thickness = 18mm\n  on_hand = {on_hand}\n  sold large {{ size = 2440mm x 1220mm, price = 80 EUR }}\n  \
             sold half {{ size = 1220mm x 1220mm, price = 45 EUR }}\n}}\nstick s {{ floor = 80mm, low = 500mm }}\n\
             carcass a {{ shelves = s, width = 800mm, height = 1800mm, depth = 300mm }}\n"
        )
    };
    let bought = |on_hand| {
        let of = crate::compiled_text(&text(on_hand));
        let work = works(&of).remove(0);
        let plan = work.plan.clone().unwrap();
        assert_eq!(verify(&work.job, &plan), []);
        (work.bought(&plan), plan.sheets)
    };
    assert_eq!((bought(0), bought(1)), ((1, 1), (0, 1)));
}

/// A vehicle of 1300 x 1250 mm takes no rip of 2440 mm; sheets that are cut across first get in, and are no more.
#[test]
fn a_sheet_is_cut_across_first_where_that_gets_it_into_the_vehicle() {
    let text = |saw: &str| {
        crate::compiled_text(&format!(
            "sheet ply {{ size = 2440mm x 1220mm, thickness = 18mm, skim = 3mm }}\nsaw table {{ kerf = 3mm{saw} }}\n\
             vehicle {{ length = 1300mm, width = 1250mm }}\nstick s {{ floor = 80mm, low = 500mm, top = 900mm }}\n\
             each carcass {{ shelves = s, width = 800mm, height = 1000mm, depth = 380mm }}\n\
             carcass a\ncarcass b\ncarcass c\ncarcass d\n"
        ))
    };
    let ride = |of: &Compilation| {
        let layouts = json(of, "layouts");
        let group = &layouts["groups"][0];
        let all = list(&group["patterns"]).iter();
        (
            group["buy"].as_u64().unwrap(),
            all.map(|one| one["ride"].as_str().unwrap().to_owned()).collect::<Vec<_>>(),
        )
    };
    let (sheets, plain) = ride(&text(", cuts = [trim]"));
    assert!(plain.iter().all(|says| says.starts_with("no cut between rips makes it fit")), "{plain:?}");
    let of = text("");
    let (across, rides) = ride(&of);
    assert_eq!(across, sheets);
    assert!(
        rides.iter().all(|says| says.starts_with("to fit the vehicle have it cut across at the yard")),
        "{rides:?}"
    );
    assert_eq!(saw_sheets(&of, Effort::Quick), 1);
}

/// Two projects of one stock and one saw are cut together: what each would buy alone is the most that both buy, and what it costs
/// is shared between them to the cent. With another saw they are cut apart.
#[test]
fn several_projects_are_cut_together_where_stock_and_saw_are_the_same() {
    let loft = std::fs::read_to_string(crate::root().join("tests/layouts/loft.scant")).unwrap();
    let den = loft.replace("720mm", "700mm").replace("\"Loft\"", "\"Den\"");
    let together = |other: &str| {
        let all = [("Loft", crate::compiled_text(&loft)), ("Den", crate::compiled_text(other))];
        let projects: Vec<Project<'_>> = all
            .iter()
            .map(|(name, of)| Project { name, model: &of.model, graph: &of.graph, plans: &of.plans })
            .collect();
        let alone: u64 = all
            .iter()
            .flat_map(|(_, of)| works(of))
            .map(|work| work.bought(work.plan.as_ref().unwrap()))
            .sum();
        let both = Together::of(&projects, Effort::Quick).unwrap();
        let made = |name: &str| both.output(name, &projects).unwrap().json.value();
        assert!(both.output("boards", &projects).is_none());
        (alone, made("layouts"), made("shopping"), made("sawing"))
    };
    let (alone, layouts, shopping, sawing) = together(&den);
    let [group] = list(&layouts["groups"]) else { panic!("one stock: {}", layouts["groups"]) };
    let buy = group["buy"].as_u64().unwrap();
    assert!(buy <= alone && group["parts"] == 156, "{buy} of {alone}");
    let cents = |cost: &Value| -> u64 {
        cost.as_str().unwrap().strip_suffix(" EUR").unwrap().replace('.', "").parse().unwrap()
    };
    let shares: Vec<u64> = list(&shopping["by_project"]).iter().map(|own| cents(&own["cost"])).collect();
    assert_eq!((shares.len(), shares.iter().sum::<u64>()), (2, buy * 8200));
    // The wider shelves are the loft's.
    assert!(shares[0] > shares[1] && shares[1] > 0, "{shares:?}");
    let units: BTreeMap<String, u64> = list(&sawing["steps"])
        .iter()
        .filter(|step| step["cut"] == "crosscut")
        .flat_map(|step| list(&step["gives"]))
        .flat_map(|given| list(&given["units"]))
        .fold(BTreeMap::new(), |mut sums, unit| {
            *sums.entry(unit["unit"].as_str().unwrap().to_owned()).or_default() +=
                unit["count"].as_u64().unwrap();
            sums
        });
    // Two sides, five shelves, four cleats and two stretchers to each of six units of each project.
    assert_eq!(units.len(), 12);
    assert!(
        units
            .iter()
            .all(|(unit, count)| *count == 13 && (unit.starts_with("Loft ") || unit.starts_with("Den ")))
    );
    let (alone, layouts, ..) = together(&den.replace("kerf = 3mm", "kerf = 4mm"));
    let groups = list(&layouts["groups"]);
    assert_eq!(groups.len(), 2);
    assert_eq!(groups.iter().map(|group| group["buy"].as_u64().unwrap()).sum::<u64>(), alone);
}

/// What is left to make of random projects, with offcuts at hand: no offcut lies idle that would take a part of a sheet that is bought, it
/// never costs more than without offcuts, and each sheet is the sum of what becomes of it.
#[test]
fn what_is_left_is_cut_from_what_is_at_hand_before_a_sheet_is_bought() {
    let mut dice = 7_u64;
    let mut roll = |below: u64| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (dice >> 33) % below
    };
    let (mut used, mut bought_beside, mut spared) = (0, 0, 0);
    for round in 0..24 {
        let units: Vec<u64> = (0..1 + roll(5)).map(|_| 400 + 10 * roll(70)).collect();
        let offcuts: Vec<(u64, u64, u64)> =
            (0..1 + roll(3)).map(|_| (300 + 20 * roll(80), 120 + 20 * roll(40), 1 + roll(2))).collect();
        let (depth, grain, on_hand) =
            (200 + 20 * roll(12), ["length", "none"][usize::from(roll(2) == 0)], roll(2));
        let text = |with: bool| {
            let mut text = format!(
                "project {{ marks = 1mm }}\nsheet ply {{\n  size = 2440mm x 1220mm\n  thickness = 18mm\n  skim = 3mm\n  \
                 price = 70 EUR\n  grain = {grain}\n  on_hand = {}\n",
                if with { on_hand } else { 0 }
            );
            for (number, (long, wide, count)) in offcuts.iter().enumerate().filter(|_| with) {
                text.push_str(&format!(
                    "  offcut o{number} {{ size = {long}mm x {wide}mm, count = {count} }}\n"
                ));
            }
            text.push_str(
                "}\nsaw table { kerf = 3mm }\nstick s { floor = 80mm, a = 500mm, b = 900mm, top = 1400mm }\n",
            );
            text.push_str(&format!(
                "each carcass {{ stock = ply, height = 1500mm, depth = {depth}mm, shelves = s, stretcher bottom }}\n"
            ));
            for (number, width) in units.iter().enumerate() {
                text.push_str(&format!("carcass c{number} {{ width = {width}mm }}\n"));
            }
            text
        };
        // Of the first carcass some is cut already.
        let cut = ["c0.side.left", "c0.shelf.a", "c0.shelf.b"];
        let cut: Vec<&str> = cut.into_iter().filter(|_| roll(2) == 0).collect();
        let progress = if cut.is_empty() {
            String::new()
        } else {
            format!("made {{\n  cut = [{}]\n}}\n", cut.join(", "))
        };
        let of = |with: bool| {
            let mut files = scantling::source::MemoryFiles::single("test.scant", text(with));
            files.insert("test.progress.scant", progress.as_str());
            let of = scantling::compile::compile(&files, "test.scant".into()).unwrap();
            assert!(!of.has_errors(), "{round}: {:#?}", of.diagnostics);
            assert_eq!(of.graph.made.len(), cut.len(), "{round}");
            of
        };
        let (with, without) = (of(true), of(false));
        let [with, without] =
            [&with, &without].map(|of| &of.plans.sheets(&of.model, &of.graph, Effort::Quick)[0]);
        let (plan, other) = (with.plan.as_ref().unwrap(), without.plan.as_ref().unwrap());
        assert_eq!(verify(&with.job, plan), [], "{round}");
        let (bought, before) = (with.bought(plan), without.bought(other));
        assert!(bought <= before, "{round}: {bought} sheets with offcuts, {before} without");
        spared += before - bought;
        let kerf = with.job.rules.kerf;
        let mut idle: Vec<u64> = with.job.sheets.iter().map(|sheet| sheet.count.unwrap_or(0)).collect();
        for pattern in &plan.patterns {
            let sheet = &with.job.sheets[pattern.sheet];
            assert_eq!(
                Sawn::of(sheet, pattern, kerf).whole(),
                i128::from(sheet.width) * i128::from(sheet.height),
                "{round}"
            );
            if sheet.cost == 0 {
                idle[pattern.sheet] -= pattern.count;
                used += pattern.count;
            }
        }
        for pattern in plan.patterns.iter().filter(|pattern| with.job.sheets[pattern.sheet].cost > 0) {
            bought_beside += 1;
            for part in pattern.placements().map(|placed| &with.job.parts[placed.part]) {
                for (sheet, idle) in with.job.sheets.iter().zip(&idle).filter(|(sheet, _)| sheet.cost == 0) {
                    let (wide, high) = sheet.usable();
                    let fits = part.width <= wide && part.height <= high
                        || part.grain != scantling::cutting::Grain::Along
                            && part.height <= wide
                            && part.width <= high;
                    assert!(
                        !fits || *idle == 0,
                        "{round}: {} is bought for, and {} lies idle",
                        part.id,
                        sheet.id
                    );
                }
            }
        }
    }
    assert!(
        used > 12 && bought_beside > 12 && spared > 3,
        "{used} used, {bought_beside} bought, {spared} spared"
    );
}

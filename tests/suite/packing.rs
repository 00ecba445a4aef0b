//! Layouts of sheets and bars against published values, and against the verifier on random jobs.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use scantling::cutting::{
    Axis, Bar, BarJob, BarPiece, Effort, Error, Fault, First, Grain, Job, Part, Proof, Rules, Sheet, Stages,
    Trim, exchange, plan, plan_bars, verify, verify_bars,
};

fn instance(name: &str) -> String {
    let path = format!("{}/tests/packing/{name}.json", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the instance is in the tree")
}

/// Runs a variant and holds what must hold always: no faults, and no bound above the best value known.
fn run(name: &str, variant: &str, effort: Effort) -> exchange::Summary {
    let (_, summary) = exchange::run(&instance(name), variant, effort).expect("a plan");
    assert_eq!(summary.faults, Vec::<String>::new(), "{name} {variant}");
    assert!(summary.bound <= summary.best_known.unwrap(), "{name} {variant}: bound above a known layout");
    assert!(summary.bound <= summary.objective);
    summary
}

/// The values are those of the files, which name their sources; the literature's are repeated here.
#[test]
fn known_values_are_met() {
    let cases = [
        ("shelf-bookcases", "2rip", 5, 5), // area bound 4.47; README of the instances
        ("shelf-library-wall", "2rip", 14, 14), // linear program 13.42
        ("shelf-g03", "2s", 6, 6),
        ("shelf-g03", "2rip", 6, 6),
        ("lit-cu1", "2rip-o", 12, 12), // Hifi's CU1: 12 sheets, two and three stages
        ("lit-atp44", "2rip-o", 9, 9), // Alvarez-Valdes et al.'s ATP44: 9 sheets
        ("gcut1d", "2rip-o", 295, 295),
        ("gcut1d", "2s-o", 294, 294), // Cintra et al. 2008: 294 sheets
        ("gcut9d", "2rip-o", 135, 135),
        ("bwmv-c06-060-09", "2s-o", 2, 2), // Berkey, Wang class 6: 2 bins
    ];
    for (name, variant, value, bound) in cases {
        let s = run(name, variant, Effort::Quick);
        assert_eq!((s.objective, s.bound), (value, bound), "{name} {variant}");
    }
}

/// Six sheets in two stages are proven the least (`known_values_are_met`); area allows five, and three stages do it.
#[test]
fn more_stages_save_a_sheet() {
    for variant in ["3s", "g"] {
        let s = run("shelf-g03", variant, Effort::Normal);
        assert_eq!((s.objective, s.bound), (5, 5), "{variant}");
    }
    let parts = vec![Part::new("a", 7, 5, 1), Part::new("b", 7, 5, 1), Part::new("c", 3, 10, 1)];
    let job = |stages| Job {
        sheets: vec![Sheet::new("s", 10, 10)],
        parts: parts.clone(),
        rules: Rules { stages, first: First::Only(Axis::Horizontal), ..Rules::rip_first(0) },
    };
    let sheets = |stages| plan(&job(stages), Effort::Quick).unwrap().sheets;
    // Rips first, the high part leaves no room for the other two above each other, unless a crosscut is ripped again.
    assert_eq!((sheets(Stages::Two), sheets(Stages::Three), sheets(Stages::Free)), (2, 1, 1));
}

/// Delorme, Iori, Martello 2018 give 25, 42, 18 and 16 bars.
#[test]
fn known_numbers_of_bars_are_met() {
    for (name, bars, proven) in [
        ("1d-n1c1w1-a", 25, true),
        ("1d-n2c3w2-k", 42, true),
        ("1d-schwerin1-bpp10", 18, true),
        ("1d-waescher-test0065", 16, false),
    ] {
        let s = run(name, "1d", Effort::Quick);
        assert_eq!(s.sheets, bars, "{name}");
        assert_eq!(s.bound == s.objective, proven, "{name}");
    }
    assert_eq!(run("boards-g24", "1d", Effort::Quick).sheets, 106);
    // Several lengths with prices: the integer program over all patterns gives 42 520.
    assert_eq!(run("boards-g09", "1d", Effort::Normal).objective, 42_520);
}

/// Cintra et al. 2008 with three sizes of stock: cost 41 697 500 known, bound 41 667 500.
#[test]
fn several_sizes_of_stock_come_near_the_known_cost() {
    let s = run("var-gcut5d", "2h-o", Effort::Quick);
    assert_eq!(s.bound, 41_667_500);
    assert!(s.objective <= 41_697_500 + 250_000, "{}", s.objective);
}

#[test]
fn few_sheets_and_few_settings_together() {
    // First-fit decreasing height: 15 sheets, 24 settings, 77 moves for the library wall.
    let s = run("shelf-library-wall", "2rip", Effort::Normal);
    assert_eq!(s.objective, 14);
    assert!(s.settings <= 24 && s.moves <= 77, "{} settings, {} moves", s.settings, s.moves);
    // Three widths and three lengths is the floor for the three bookcases; 18 moves is first-fit's.
    let s = run("shelf-bookcases", "2rip", Effort::Quick);
    assert_eq!(s.settings, 6);
    assert!(s.moves <= 18, "{} moves", s.moves);
}

/// A part as it lies in its strip: along it, across it.
type Laid = (i64, i64);

/// A sheet as its strips of parts.
type Strips = Vec<Vec<Laid>>;

/// First-fit by falling height for one size of sheet (Coffman, Garey, Johnson, Tarjan 1980), written apart from the solver: strips along
/// the rips, each opened by the highest part that is left, what may turn laid along the strip where it fits so. Gives the sheets, each as
/// its strips of parts (along, across), with the kerf added to both.
fn first_fit(job: &Job) -> Option<Vec<Strips>> {
    let [sheet] = job.sheets.as_slice() else { return None };
    let kerf = job.rules.kerf;
    let (along, across) = sheet.reach(sheet.rip_axis());
    let (along, across) = (along + kerf, across + kerf);
    let mut parts: Vec<Laid> = Vec::new();
    for part in &job.parts {
        let given = match sheet.rip_axis() {
            Axis::Horizontal => (part.width + kerf, part.height + kerf),
            Axis::Vertical => (part.height + kerf, part.width + kerf),
        };
        let turned = (given.1, given.0);
        let ways = match part.grain {
            Grain::Along => vec![given],
            Grain::Across => vec![turned],
            Grain::Free => vec![given.max(turned), given.min(turned)],
        };
        let way = ways.into_iter().find(|(long, high)| *long <= along && *high <= across)?;
        parts.extend((0..part.demand).map(|_| way));
    }
    parts.sort_by_key(|(long, high)| (std::cmp::Reverse(*high), std::cmp::Reverse(*long)));
    let exact = job.rules.stages == Stages::Two && !job.rules.trimming;
    let mut strips: Strips = Vec::new();
    for part in parts {
        let takes = |strip: &&mut Vec<Laid>| {
            let long: i64 = strip.iter().map(|part| part.0).sum();
            long + part.0 <= along && (!exact || strip[0].1 == part.1)
        };
        match strips.iter_mut().find(takes) {
            Some(strip) => strip.push(part),
            None => strips.push(vec![part]),
        }
    }
    let mut sheets: Vec<Strips> = Vec::new();
    for strip in strips {
        let takes =
            |sheet: &&mut Strips| sheet.iter().map(|strip| strip[0].1).sum::<i64>() + strip[0].1 <= across;
        match sheets.iter_mut().find(takes) {
            Some(sheet) => sheet.push(strip),
            None => sheets.push(vec![strip]),
        }
    }
    Some(sheets)
}

/// Distinct settings of the job, and those summed sheet by sheet; what is all that remains after the last cut needs none.
fn settings(job: &Job, sheets: &[Strips]) -> (usize, u64) {
    let kerf = job.rules.kerf;
    let (along, across) = job.sheets[0].reach(job.sheets[0].rip_axis());
    let (mut all, mut moves) = (std::collections::BTreeSet::new(), 0);
    for sheet in sheets {
        let mut own = std::collections::BTreeSet::new();
        let mut left = across + kerf;
        for strip in sheet {
            let (high, mut rest) = (strip[0].1, along + kerf);
            own.extend((high < left).then_some((true, high)));
            left -= high;
            for part in strip {
                own.extend((part.0 < rest).then_some((false, part.0)));
                own.extend((part.1 < high).then_some((true, part.1)));
                rest -= part.0;
            }
        }
        moves += own.len() as u64;
        all.extend(own);
    }
    (all.len(), moves)
}

/// A plan has no more settings, of the job or sheet by sheet, than first-fit has where that takes as few sheets.
fn as_neat_as_first_fit(job: &Job, effort: Effort) -> Option<bool> {
    let sheets = first_fit(job)?;
    let found = plan(job, effort).unwrap();
    assert_eq!(verify(job, &found), Vec::new());
    if sheets.len() as u64 > found.sheets {
        return None;
    }
    assert_eq!(sheets.len() as u64, found.sheets, "first-fit takes fewer sheets");
    let (distinct, moves) = settings(job, &sheets);
    Some(found.settings() <= distinct && found.fence_moves <= moves)
}

#[test]
fn never_more_settings_than_first_fit_with_as_many_sheets() {
    let rips = |job: &Job, trimming: bool, plain: bool| Job {
        rules: Rules { stages: Stages::Two, first: First::Rip, trimming, plain, ..job.rules },
        ..job.clone()
    };
    let mut compared = 0;
    runner(250)
        .run(&jobs(), |job| {
            let mut job = rips(&job, job.rules.trimming, !job.rules.trimming);
            job.sheets.truncate(1);
            let neat = as_neat_as_first_fit(&job, Effort::Quick);
            prop_assert_ne!(neat, Some(false));
            Ok(())
        })
        .unwrap();
    // Bookcases of a few sizes, where first-fit often takes as few sheets as can be.
    for seed in 0..60_i64 {
        let size =
            |i: i64, least: i64, most: i64| least + (seed * 31 + i * 17 + seed * i * 7) % (most - least);
        let parts: Vec<Part> = (0..3 + seed % 5)
            .map(|i| {
                let deep = [180, 240, 300][usize::try_from(size(i, 0, 3)).unwrap()];
                let part = Part::new(
                    &format!("p{i}"),
                    size(i, 300, 1150),
                    deep,
                    2 + u64::try_from(size(i, 0, 9)).unwrap(),
                );
                part.grain(if seed % 4 == 3 { Grain::Free } else { Grain::Along })
            })
            .collect();
        let job = Job { sheets: vec![Sheet::new("s", 2440, 1220)], parts, rules: Rules::rip_first(3) };
        for (trimming, plain) in [(true, false), (false, false), (false, true)] {
            match as_neat_as_first_fit(&rips(&job, trimming, plain), Effort::Quick) {
                None => {}
                Some(neat) => {
                    assert!(neat, "job {seed}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 60, "{compared} jobs compared");
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let text = instance("shelf-g03");
    let one = exchange::run(&text, "2s", Effort::Quick).unwrap();
    let two = exchange::run(&text, "2s", Effort::Quick).unwrap();
    assert_eq!(one, two);
}

fn sheet_job(parts: Vec<Part>) -> Job {
    Job { sheets: vec![Sheet::new("s", 96, 48)], parts, rules: Rules::rip_first(1) }
}

#[test]
fn bad_input_is_named() {
    let part = |w, h, n| Part::new("p", w, h, n);
    let mut job = sheet_job(vec![part(97, 10, 1)]);
    assert_eq!(plan(&job, Effort::Quick), Err(Error::Unplaceable("p".into())));
    job.parts = vec![part(10, 0, 1)];
    assert_eq!(plan(&job, Effort::Quick), Err(Error::Size { id: "p".into(), what: "height", value: 0 }));
    job.parts = vec![part(10, 10, 1), part(11, 10, 1)];
    assert_eq!(plan(&job, Effort::Quick), Err(Error::Twice("p".into())));
    job.parts = vec![part(10, 10, 1)];
    job.rules.kerf = -1;
    assert_eq!(plan(&job, Effort::Quick), Err(Error::Negative { what: "kerf", value: -1 }));
    job.rules.kerf = 1;
    job.sheets.clear();
    assert_eq!(plan(&job, Effort::Quick), Err(Error::NoStock));
    let mut trimmed = Sheet::new("s", 20, 20);
    trimmed.trim = Trim::all(10);
    job.sheets = vec![trimmed];
    assert_eq!(plan(&job, Effort::Quick), Err(Error::AllTrimmed("s".into())));
    let mut few = Sheet::new("s", 20, 20);
    few.count = Some(2);
    job.sheets = vec![few];
    job.parts = vec![part(19, 19, 5)];
    assert_eq!(plan(&job, Effort::Quick), Err(Error::StockShort { missing: 3, wanted: 5 }));
    let bars = BarJob { bars: Vec::new(), pieces: Vec::new(), kerf: 0 };
    assert_eq!(plan_bars(&bars, Effort::Quick), Err(Error::NoStock));
}

#[test]
fn nothing_wanted_takes_no_sheet() {
    let plan = plan(&sheet_job(Vec::new()), Effort::Quick).unwrap();
    assert_eq!((plan.sheets, plan.cost, plan.bound.cost), (0, 0, 0));
}

#[test]
fn a_million_equal_parts_are_counted_not_listed() {
    // Eight of 23 x 23 with kerf 1 fill 96 x 48 less one kerf: 4 along, 2 across.
    let job = sheet_job(vec![Part::new("p", 23, 23, 1_000_000)]);
    let plan = plan(&job, Effort::Normal).unwrap();
    assert_eq!((plan.sheets, plan.bound.cost), (125_000, 125_000));
    assert_eq!(plan.patterns.len(), 1);
    assert_eq!(verify(&job, &plan), Vec::new());
}

#[test]
fn a_kerf_wider_than_a_part_is_legal() {
    // Three parts of 2 need 2 + 5 + 2 + 5 + 2 = 16.
    let mut job = Job {
        sheets: vec![Sheet::new("s", 16, 2)],
        parts: vec![Part::new("p", 2, 2, 3)],
        rules: Rules::rip_first(5),
    };
    assert_eq!(plan(&job, Effort::Quick).unwrap().sheets, 1);
    job.sheets = vec![Sheet::new("s", 15, 2)];
    assert_eq!(plan(&job, Effort::Quick).unwrap().sheets, 2);
}

#[test]
fn a_sheet_reaches_along_its_cuts_and_a_rip_keeps_a_rest() {
    let mut sheet = Sheet::new("s", 96, 48);
    sheet.trim = Trim { left: 1, right: 2, bottom: 3, top: 4 };
    assert_eq!((sheet.reach(Axis::Horizontal), sheet.reach(Axis::Vertical)), ((93, 41), (41, 93)));
    let job = sheet_job(vec![Part::new("p", 40, 20, 2)]);
    let rip = &plan(&job, Effort::Quick).unwrap().patterns[0].rips[0];
    // Two of 40 and two kerfs of 96; nothing where the last kerf falls beyond the end.
    assert_eq!((rip.rest(96, 1), rip.rest(81, 1)), (14, 0));
}

#[test]
fn offcuts_on_hand_are_used_first() {
    let mut offcut = Sheet::new("offcut", 40, 20);
    offcut.count = Some(1);
    offcut.cost = 0;
    let mut whole = Sheet::new("sheet", 96, 48);
    whole.cost = 60;
    let job = Job {
        sheets: vec![whole, offcut],
        parts: vec![Part::new("p", 40, 20, 1)],
        rules: Rules::rip_first(1),
    };
    let found = plan(&job, Effort::Quick).unwrap();
    assert_eq!((found.cost, found.sheets, found.patterns[0].sheet), (0, 1, 1));
}

#[test]
fn grain_is_kept() {
    let mut job = sheet_job(vec![Part::new("a", 40, 20, 2).grain(Grain::Across), Part::new("b", 90, 10, 1)]);
    let found = plan(&job, Effort::Quick).unwrap();
    for p in found.patterns.iter().flat_map(|p| p.placements()) {
        assert_eq!((p.rotated, p.w), if p.part == 0 { (true, 20) } else { (false, 90) });
    }
    job.parts[0].grain = Grain::Along;
    assert!(verify(&job, &found).iter().all(|f| matches!(f, Fault::Turned { part, .. } if part == "a")));
    assert!(!verify(&job, &found).is_empty());
}

#[test]
fn the_verifier_sees_what_is_wrong() {
    let job = sheet_job(vec![Part::new("a", 40, 20, 2), Part::new("b", 30, 20, 1)]);
    let good = plan(&job, Effort::Quick).unwrap();
    assert_eq!(verify(&job, &good), Vec::new());
    let mut bad = good.clone();
    bad.patterns[0].rips[0].crosscuts[0].parts[0].x += 60;
    assert!(!verify(&job, &bad).is_empty());
    let mut bad = good.clone();
    bad.patterns[0].count = 2;
    assert!(verify(&job, &bad).contains(&Fault::Demand { id: "a".into(), made: 4, wanted: 2 }));
    let mut tight = job.clone();
    tight.rules.kerf = 2;
    assert_eq!(verify(&tight, &good), vec![Fault::NotGuillotine(0)]);
    let mut other = job;
    other.rules.first = First::Only(Axis::Vertical);
    other.rules.trimming = false;
    assert!(
        verify(&other, &good).iter().all(|f| matches!(f, Fault::Stages { .. } | Fault::NotGuillotine(_)))
    );
    let mut bad = good;
    bad.bound.cost += 5;
    assert!(verify(&sheet_job(vec![Part::new("a", 40, 20, 2), Part::new("b", 30, 20, 1)]), &bad).len() == 1);
}

prop_compose! {
    fn parts()(list in prop::collection::vec((2_i64..60, 2_i64..40, 1_u64..4, 0_u8..3), 1..7)) -> Vec<Part> {
        list.into_iter().enumerate().map(|(i, (w, h, n, grain))| {
            let grain = [Grain::Along, Grain::Across, Grain::Free][usize::from(grain)];
            // Parts that must lie across fit only where their width fits the sheet's height.
            let w = if grain == Grain::Across { w.min(44) } else { w };
            Part::new(&format!("p{i}"), w, h, n).grain(grain)
        }).collect()
    }
}

prop_compose! {
    fn jobs()(
        parts in parts(),
        kerf in 0_i64..4,
        trim in 0_i64..3,
        first in 0_u8..4,
        stages in 0_u8..3,
        trimming in any::<bool>(),
        offcut in prop::option::of((20_i64..70, 20_i64..48, 1_u64..3)),
        second in prop::option::of((60_i64..90, 45_i64..60, 1_i64..9)),
    ) -> Job {
        let mut sheet = Sheet::new("s", 96, 48);
        sheet.trim = Trim::all(trim);
        sheet.cost = 5;
        let mut sheets = vec![sheet];
        if let Some((w, h, n)) = offcut {
            let mut s = Sheet::new("offcut", w, h);
            s.count = Some(n);
            s.cost = 0;
            sheets.push(s);
        }
        if let Some((w, h, cost)) = second {
            let mut s = Sheet::new("other", w, h);
            s.cost = cost;
            sheets.push(s);
        }
        let first = [First::Rip, First::Any, First::Only(Axis::Horizontal), First::Only(Axis::Vertical)][usize::from(first)];
        let stages = [Stages::Two, Stages::Three, Stages::Free][usize::from(stages)];
        Job { sheets, parts, rules: Rules { kerf, stages, first, trimming, plain: false } }
    }
}

fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha))
}

/// Two thousand random jobs: every plan passes the verifier, and its bound is not above its cost.
#[test]
fn random_jobs_pass_the_verifier() {
    runner(2000)
        .run(&jobs(), |job| {
            let found = plan(&job, Effort::Quick).expect("every part fits the unlimited sheet");
            prop_assert_eq!(verify(&job, &found), Vec::new());
            prop_assert!(found.bound.cost <= found.cost);
            Ok(())
        })
        .unwrap();
}

/// More stages never cost more, and the bound that holds for all of them is not above the cheapest plan.
#[test]
fn more_stages_never_cost_more() {
    runner(200)
        .run(&jobs(), |job| {
            let with = |stages| Job { rules: Rules { stages, trimming: true, ..job.rules }, ..job.clone() };
            let found =
                [Stages::Two, Stages::Three, Stages::Free].map(|s| plan(&with(s), Effort::Quick).unwrap());
            prop_assert!(found[1].cost <= found[0].cost && found[2].cost <= found[0].cost);
            prop_assert!(found[1].bound.cost.max(found[2].bound.cost) <= found[1].cost.min(found[2].cost));
            Ok(())
        })
        .unwrap();
}

/// Random jobs of bars: every plan passes, and the bound holds against first-fit on the same job.
#[test]
fn random_jobs_of_bars_pass_the_verifier() {
    let jobs = (prop::collection::vec((5_i64..90, 1_u64..9), 1..8), 0_i64..4, 0_i64..5);
    runner(500)
        .run(&jobs, |(pieces, kerf, trim)| {
            let bar = Bar { id: "b".into(), length: 100, count: None, cost: 1, trim };
            let pieces = pieces
                .into_iter()
                .enumerate()
                .map(|(i, (length, demand))| BarPiece { id: format!("p{i}"), length, demand })
                .collect();
            let job = BarJob { bars: vec![bar], pieces, kerf };
            let found = plan_bars(&job, Effort::Quick).expect("every piece fits");
            prop_assert_eq!(verify_bars(&job, &found), Vec::new());
            prop_assert!(found.bound.cost <= found.cost && found.cost <= found.bound.cost + 1);
            Ok(())
        })
        .unwrap();
}

#[test]
fn the_bound_says_what_proves_it() {
    let job = sheet_job(vec![Part::new("p", 60, 30, 3)]);
    let found = plan(&job, Effort::Quick).unwrap();
    // Area holds two on a sheet, but two never fit: each is longer and higher than half.
    assert_eq!((found.sheets, found.bound.cost, found.bound.proof), (3, 3, Proof::DualFeasibleFunctions));
}

/// Every published value of an instance says how it became known and which paper it is from, and the notices stand beside them.
#[test]
fn each_published_value_names_its_paper() {
    let (mut seen, mut files) = (0, 0);
    for path in crate::files_under("tests/packing", ".json") {
        let text = std::fs::read_to_string(&path).unwrap();
        let instance: serde_json::Value = serde_json::from_str(&text).unwrap();
        for value in instance["literature"].as_array().into_iter().flatten() {
            let says = |name: &str| value[name].as_str().unwrap_or_default().to_owned();
            assert!(
                says("how") == "seen" && says("paper").contains(|c: char| c.is_ascii_digit()),
                "{path}: {value}"
            );
            seen += 1;
        }
        files += 1;
    }
    assert_eq!((files, seen), (18, 19));
    let read = |path: &str| std::fs::read_to_string(crate::root().join(path)).unwrap();
    for (path, holder) in [
        ("tests/packing/NOTICES.md", "Florian Fontan"),
        ("tests/packing/NOTICES.md", "Rafael Martinelli"),
        ("editors/tree-sitter-scantling/src/tree_sitter/LICENSE", "Max Brunsfeld"),
    ] {
        let notice = read(path);
        assert!(
            notice.contains(holder) && notice.contains("Permission is hereby granted, free of charge"),
            "{path}"
        );
    }
}

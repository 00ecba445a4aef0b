//! Checks at their edges: small texts, and all that is told of one slug. Sizes are worked by hand beside each text; bounds
//! without another source are common practice, no source.

use crate::compiled_text;
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::diag::Diagnostic;
use scantling::mechanics::carry::{Attitude, Hall};
use scantling::mechanics::corner::Corner;
use scantling::sheets::sheet;

/// A message as it is read: headline, notes, helps.
fn lines(told: &Diagnostic) -> Vec<&str> {
    let more = told.notes.iter().chain(&told.help).flat_map(|text| text.lines());
    std::iter::once(told.message.as_str()).chain(more).collect()
}

fn of<'a>(compilation: &'a Compilation, slug: &str) -> Vec<&'a Diagnostic> {
    compilation.diagnostics.iter().filter(|told| told.code.slug == slug).collect()
}

/// All lines of all messages of a slug.
#[track_caller]
fn tells(text: &str, slug: &str, expected: &[&str]) {
    let compilation = compiled_text(text);
    let told: Vec<&str> = of(&compilation, slug).into_iter().flat_map(lines).collect();
    assert_eq!(told, expected, "{slug} of\n{text}");
}

/// Subject, value, limit and verdict of every row of a slug in the sheet of limits.
fn limits(text: &str, slug: &str) -> Vec<[String; 4]> {
    let compilation = compiled_text(text);
    let output = (sheet("limits").unwrap().make)(compilation.subject(Effort::Normal)).json.value();
    let rows = output["limits"].as_array().unwrap().iter().filter(|row| row["slug"] == slug);
    let cell = |row: &serde_json::Value, name: &str| row[name].as_str().unwrap_or_default().to_owned();
    rows.map(|row| ["subject", "value", "limit", "verdict"].map(|name| cell(row, name))).collect()
}

/// A wall of 31 in with studs, lined 1/2 in thick, and a unit 40 in high with a cleat under its upper shelf.
fn on_a_wall(screw: &str, back: &str) -> String {
    format!(
        "room r {{ wall w {{\n  right = open\n  reading low {{ back = 31\", front = 31\" }}\n  lining = 1/2\"\n  studs {{ at = [12\", 28\"] }}\n}} }}\nsheet ply {{ thickness = 23/32\" }}\nsheet thick {{ thickness = 1/2\" }}\nscrew long {{ length = {screw} }}\nstick s {{ floor = 3\", folios = 20\" }}\nrun shelves {{ along = r.w, end left {{ gap = 1\" }}, unit a {{ stock = ply, shelves = s, width = rest, height = 40\", depth = 11\", cleat {{ height = 2 1/2\" }}{back} }} }}\njoin cleat to wall with butt {{ screw = long }}\n"
    )
}

#[test]
fn a_wall_screw_goes_through_the_back_too() {
    // 23/32 + 1/2 + 1 = 2 7/32 without a back; 2 23/32 through one of 1/2.
    tells(&on_a_wall("2 1/4\"", ""), "screw_grip", &[]);
    let back = ", back { stock = thick }";
    let told = [
        "`long`, 2 1/4\", is too short from `shelves.a.cleat.folios` to `r.w`",
        "cleat 23/32\", 1/2\" behind it for the back, lining 1/2\", and 1\" that hold",
        "take one of 2 3/4\" or longer",
    ];
    tells(&on_a_wall("2 1/4\"", back), "screw_grip", &told);
    tells(&on_a_wall("2 23/32\"", back), "screw_grip", &[]);
    // Set in by 1/4 in its grooves, it leaves that much air behind it: 2 31/32.
    let set_in = |screw| {
        on_a_wall(screw, ", back { stock = thick, set_in = 1/4\" }, join back to side with groove {}")
    };
    let told = [
        "`long`, 2 15/16\", is too short from `shelves.a.cleat.folios` to `r.w`",
        "cleat 23/32\", 3/4\" behind it for the back, lining 1/2\", and 1\" that hold",
        "take one of 3\" or longer",
    ];
    tells(&set_in("2 15/16\""), "screw_grip", &told);
    tells(&set_in("2 31/32\""), "screw_grip", &[]);
}

#[test]
fn a_seam_screw_ends_before_the_far_face() {
    let seam = |sheet: &str, screw: &str| {
        format!(
            "sheet ply {{ thickness = {sheet} }}\nscrew long {{ length = {screw} }}\nstick s {{ floor = 3\", high = 20\" }}\nrun one {{ each unit {{ shelves = s, width = 24\", height = 36\", depth = 12\" }}, unit a, unit b }}\njoin unit to unit with butt {{ screw = long }}\nproject {{ marks = 0.1mm }}\n"
        )
    };
    // 2 x 18 less 5: 31. One of 36 is as long as both are thick.
    let told = |length: &str| {
        [
            format!("`long`, {length}, is too long from `one.a` to `one.b`"),
            "two sides are 36 mm thick, and its point stays 5 mm inside".to_owned(),
            "take one of 30 mm or shorter".to_owned(),
        ]
    };
    let both = |text: &str, [out, near]: [&[String]; 2]| {
        for (slug, told) in [("seam_screw", out), ("seam_screw_near", near)] {
            tells(text, slug, &told.iter().map(String::as_str).collect::<Vec<_>>());
        }
    };
    both(&seam("18mm", "36mm"), [&told("36 mm"), &[]]);
    both(&seam("18mm", "35mm"), [&[], &told("35 mm")]);
    both(&seam("18mm", "31mm"), [&[], &[]]);
    let inches = |screw: &str| seam("23/32\"", screw).replace("project { marks = 0.1mm }\n", "");
    // 2 x 23/32 less 3/16: 1 1/4, which the sewing room takes.
    let told = [
        "`long`, 1 5/16\", is too long from `one.a` to `one.b`",
        "two sides are 1 7/16\" thick, and its point stays 3/16\" inside",
        "take one of 1 1/4\" or shorter",
    ];
    both(&inches("1 5/16\""), [&[], &told.map(str::to_owned)]);
    both(&inches("1 1/4\""), [&[], &[]]);
}

const DIVIDED: &str = "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm, top, shelf floor { bay left { shelf low }, bay right } }\n";

#[test]
fn every_housing_leaves_half_of_its_wood() {
    let joins = |joins: &str| format!("{DIVIDED}{joins}\n");
    let half = "leave half the wood: 9 mm at most";
    tells(
        &joins("join shelf to divider with dado { depth = 14mm }"),
        "dado_depth",
        &["a dado 14 mm deep takes more than half of a divider 18 mm thick", half],
    );
    tells(
        &joins("join divider to shelf with dado { depth = 9.1mm }"),
        "dado_depth",
        &["a dado 9.1 mm deep takes more than half of a shelf 18 mm thick", half],
    );
    tells(
        &joins("join a.shelf.floor to a.side.left with dado { depth = 15mm }"),
        "dado_depth",
        &["a dado 15 mm deep takes more than half of a side 18 mm thick", half],
    );
    for (kind, joint) in [("rabbet", "rabbet"), ("groove", "groove")] {
        let back = |depth: &str| {
            format!(
                "sheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{ floor = 80mm }}\ncarcass a {{ stock = ply, shelves = s, width = 600mm, height = 900mm, depth = 300mm, back {{ stock = thin }} }}\njoin back to side with {joint} {{ depth = {depth} }}\n"
            )
        };
        let told = format!("a {kind} 10 mm deep takes more than half of a side 18 mm thick");
        // A back carries nothing: 18 less 10 are left.
        let left = "8 mm of wood are left; 9 mm at most leaves half";
        tells(&back("10mm"), "back_housing_depth", &[&told, left]);
        tells(&back("9mm"), "back_housing_depth", &[]);
    }
    tells(DIVIDED, "dado_depth", &[]);
}

#[test]
fn every_dado_fits_what_it_takes() {
    let help = "0.2 mm over the sheet as measured is a push fit; 0.4 mm is the most";
    for (join, what) in [
        ("shelf to divider with dado", "shelves"),
        ("divider to shelf with dado", "dividers"),
        ("a.shelf.floor to a.side.left with dado", "shelves"),
    ] {
        let text = |fit: &str| format!("{DIVIDED}join {join} {{ fit = {fit} }}\n");
        let told = format!("a dado 3 mm wider than the sheet `ply`: {what} rattle in it");
        tells(&text("3mm"), "loose_dado", &[&told, help]);
        tells(&text("0.4mm"), "loose_dado", &[]);
    }
    // Nothing is housed in a divider where there is none.
    let alone = "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\njoin shelf to divider with dado { fit = 3mm }\n";
    tells(alone, "loose_dado", &[]);
}

#[test]
fn a_part_without_grain_is_turned_where_only_that_fits() {
    // Behind sides of 18 with rabbets of 6: 2000 - 36 + 12 = 1976 wide, and 820 from the shelf to the top.
    let text = |grain: &str, width: &str, height: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nsheet fine {{ thickness = 6mm, size = 2440mm x 1220mm{grain} }}\nstick s {{ floor = 80mm }}\ncarcass a {{ stock = ply, shelves = s, width = {width}, height = {height}, depth = 300mm, back {{ stock = fine }} }}\n"
        )
    };
    tells(&text(", grain = none", "2000mm", "900mm"), "larger_than_sheet", &[]);
    // EN 315: 1220 may be 3.5 less.
    let most = "1216.5 mm is the most, with the skim and the sheet's tolerance taken off; divide the part or use a larger sheet";
    let wide = "the width of `a.back`, 1976 mm, is more than a sheet of `fine` offers";
    let across = "turned it would fit, but with its grain across its length, where a sheet bends more easily";
    tells(&text("", "2000mm", "900mm"), "larger_than_sheet", &[wide, across, most]);
    // 1320 high, it fits neither way.
    tells(&text(", grain = none", "2000mm", "1400mm"), "larger_than_sheet", &[wide, most]);
}

#[test]
fn a_shelf_that_is_a_hair_shorter_than_its_clear_width_forgets_its_dados_too() {
    // 32 1/4 less 2 x 23/32 is 30 13/16 clear; 30 25/32 is 1/32 under that.
    let text = |length: &str| {
        format!(
            "sheet ply {{ thickness = 23/32\" }}\nstick s {{ floor = 3\", high = 20\" }}\ncarcass a {{ shelves = s, width = 32 1/4\", height = 40\", depth = 11\" }}\nmeasured a.shelf.high.length = {length} because \"cut like the cleats\"\n"
        )
    };
    let forgets = "it forgets two dado depths of 1/4\": cut it 31 5/16\" long, and keep this one for a cleat";
    for (length, short) in [("30 25/32\"", "17/32\""), ("30 13/16\"", "1/2\""), ("30 27/32\"", "15/32\"")] {
        let told = format!("`a.shelf.high` is {length} long, {short} too short");
        tells(&text(length), "wrong_length", &[&told, forgets]);
    }
    let told = ["`a.shelf.high` is 30 3/4\" long, 9/16\" too short"];
    let help = "cut another 31 5/16\" long, and keep this one for a shorter part";
    tells(&text("30 3/4\""), "wrong_length", &[told[0], help]);
}

#[test]
fn a_nail_is_held_against_the_thickest_piece_it_fastens() {
    let text = |length: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nsheet thick {{ thickness = 25mm }}\nnail short {{ length = {length} }}\nstick s {{ floor = 80mm, high = 500mm }}\ncarcass a {{ stock = ply, shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\ncarcass b {{ stock = thick, shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\njoin shelf to side with dado {{ nail = short }}\n"
        )
    };
    let told = [
        "`short`, 30 mm, holds too little through 25 mm of wood",
        "from `b.shelf.floor` to `b.side.left`",
        "take one of 50 mm or longer",
    ];
    tells(&text("30mm"), "short_nail", &told);
    let row = |value: &str, verdict: &str| ["short", value, "50 mm", verdict].map(str::to_owned);
    assert_eq!(limits(&text("30mm"), "short_nail"), [row("30 mm", "warning")]);
    assert_eq!(limits(&text("50mm"), "short_nail"), [row("50 mm", "holds")]);
}

/// The greatest length comes from the geometry itself; what it is off by in floating point decides nothing.
#[test]
fn a_corner_that_is_just_passed_says_how() {
    let corner = Hall { corner: Corner { entry: 900.0, exit: 900.0 }, ceiling: 1800.0 };
    let [flat, lifted] = [Attitude::Flat, Attitude::Lifted]
        .map(|attitude| corner.tallest_unit(attitude, 600.0, 300.0).unwrap());
    assert!(flat < lifted, "{flat} {lifted}");
    let text = |height: f64| {
        format!(
            "room r {{\n  wall w {{ right = open, reading low {{ back = 700mm, front = 700mm }} }}\n  route yard {{ corner hall {{ entry = 900mm, exit = 900mm, ceiling = 1800mm }} }}\n}}\nsheet ply {{ thickness = 18mm }}\nstick s {{ floor = 80mm }}\nrun shelves {{ along = r.w, end left {{ gap = 25mm }}, unit a {{ shelves = s, width = 600mm, height = {height:.7}mm, depth = 300mm }} }}\n"
        )
    };
    let onto = |height: f64| {
        let compilation = compiled_text(&text(height));
        assert!(of(&compilation, "route").is_empty(), "{:?}", compilation.diagnostics);
        of(&compilation, "route_carry").iter().map(|told| told.message.clone()).collect::<Vec<_>>()
    };
    let only = "`shelves.a` comes round the corner `hall` only on its side with one end lifted";
    assert_eq!(onto(lifted + 5e-7), [only]);
    assert_eq!(onto(lifted - 5e-7), [only]);
    let easy = flat.max(corner.tallest_unit(Attitude::OnEdge, 600.0, 300.0).unwrap());
    assert_eq!(onto(easy + 5e-7), [""; 0]);
    assert_eq!(onto(easy + 0.01), [only]);
}

#[test]
fn the_widest_solid_part_is_not_among_those_that_do_so_too() {
    let text = |more: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nboard wide {{ thickness = 20mm, swell = 0.29 % }}\nstick s {{ floor = 80mm, high = 500mm }}\nrun one {{ each unit {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}, unit a, facing {{ stock = wide, lap = 0mm, stile = 36mm, top_rail = 180mm{more} }} }}\n"
        )
    };
    // 180 x 0.29 % x 4 = 2.088; 180 x 1.6 / 2.088 = 137.9.
    let message = "`one.a.rail.top`, 180 mm wide, moves ~2.09 mm across the grain over a year";
    let help = "glue it along one edge only and caulk the other, or make it 137.9 mm wide";
    tells(&text(""), "movement", &[message, help]);
    tells(&text(", strip = 160mm"), "movement", &[message, "so does `one.a.strip.floor`", help]);
}

#[test]
fn a_groove_that_runs_out_at_the_end_leaves_no_wood() {
    let text = |high: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ floor = 80mm, high = {high} }}\ncarcass a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\n"
        )
    };
    // A groove of 18.2 from 882 ends at 900.2, one from 870 at 888.2.
    let none = [
        "no wood is left beyond the groove at the upper end of `a.side.left` and 1 other side",
        "let a `top` lie in rabbets at the ends of the sides",
        "or lower the mark by 12.9 mm or more",
    ];
    tells(&text("882mm"), "groove_near_end", &none);
    let some = [
        "11.8 mm of wood is left beyond the groove at the upper end of `a.side.left` and 1 other side",
        "lower the mark by 0.9 mm or more",
        "or let a `top` lie in rabbets at the ends of the sides",
    ];
    tells(&text("870mm"), "groove_near_end", &some);
}

#[test]
fn a_rabbet_at_the_end_wants_no_guide_below_it() {
    // The floor of this cupboard lies at the bottom end of its sides, on the base.
    let cupboard = "use std.shelving { base_cupboard }\nsheet ply { thickness = 18mm }\nsheet top { thickness = 25mm }\npin peg { diameter = 5mm }\nrouter { base = 70mm, bit = 12mm }\nbase_cupboard c { stock = ply, counter = top, pin = peg, width = 600mm }\n";
    tells(cupboard, "guide_off_board", &[]);
    assert_eq!(limits(cupboard, "guide_off_board"), [] as [[String; 4]; 0]);
    // A line at 40 still does: 70 - 6 = 64, 24 over.
    let text = "sheet ply { thickness = 18mm }\nrouter { base = 70mm, bit = 12mm }\nstick s { floor = 0mm, low = 40mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n";
    let told = [
        "at the lowest line the guide hangs 24 mm over the end of the board",
        "guide that line from above, with boards of 76 mm and 82.2 mm from the line to the guide: `guide = above` of the router",
        "or raise the lowest mark to 64 mm or more",
    ];
    tells(text, "guide_off_board", &told);
    let compilation = compiled_text(text);
    let labels = of(&compilation, "guide_off_board")[0].labels.iter();
    let labels =
        labels.map(|label| (&text[label.span.start as usize..label.span.end as usize], &*label.text));
    assert_eq!(
        labels.collect::<Vec<_>>(),
        [("40mm", "the lowest mark"), ("70mm", "the base"), ("12mm", "the bit")]
    );
}

#[test]
fn what_is_under_a_mark_is_told_finer_in_the_table() {
    let text = |sheet: &str, fit: &str| {
        format!(
            "sheet ply {{ thickness = {sheet} }}\nstick s {{ floor = 3\" }}\ncarcass a {{ shelves = s, width = 24\", height = 36\", depth = 11\" }}\njoin shelf to side with dado {{ fit = {fit} }}\n"
        )
    };
    let row = |value: &str, verdict: &str| ["ply", value, "1/64\"", verdict].map(str::to_owned);
    assert_eq!(limits(&text("23/32\"", "1/128\""), "loose_dado"), [row("1/128\"", "holds")]);
    assert_eq!(limits(&text("23/32\"", "0\""), "loose_dado"), [row("0\"", "holds")]);
    // No tape has such a fraction.
    assert_eq!(limits(&text("23/32\"", "0.2mm"), "loose_dado"), [row("~0.008\"", "holds")]);
}

/// A verdict says that something is told; with one sheet there is nothing to save.
#[test]
fn one_sheet_that_is_hardly_used_is_no_note() {
    let text = "sheet ply { thickness = 18mm, size = 2440mm x 1220mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 600mm, depth = 300mm }\n";
    tells(text, "sheets", &[]);
    let rows = limits(text, "sheets");
    assert_eq!(rows.len(), 1);
    assert_eq!((rows[0][0].as_str(), rows[0][2].as_str(), rows[0][3].as_str()), ("ply", "", "told"));
}

#[test]
fn the_side_with_more_joints_counts_for_the_glue_and_both_for_the_clamps() {
    let text = |left: &str, right: &str| {
        format!(
            "clamp bar {{ count = 4 }}\nperson {{ joint = 40 s }}\nglue white {{ open = 100 s }}\nsheet ply {{ thickness = 18mm }}\ncarcass a {{ width = 900mm, height = 900mm, depth = 300mm, top, shelf floor {{ bay left{left}, bay right{right} }} }}\njoin shelf to side with dado {{ glue = white }}\n"
        )
    };
    // Floor, top and one more shelf at one side: 3 x 40 s; 5 ends in all.
    for (left, right) in [(" { shelf low }", ""), ("", " { shelf low }")] {
        let text = text(left, right);
        let told = [
            "a side of `a` takes 2 min to glue, and the glue stays open 1 min 40 s",
            "glue it in two stages, or take a glue that stays open 2 min or longer",
        ];
        tells(&text, "glue_time", &told);
        let row = ["a", "4", "5", "warning"].map(str::to_owned);
        assert_eq!(limits(&text, "clamps"), [row]);
    }
    tells(&text("", ""), "glue_time", &[]);
}

#[test]
fn a_hand_with_a_brush_gets_into_every_opening_that_is_glued_up() {
    let text = |mark: &str, width: &str, more: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ floor = 80mm, trays = {mark}, high = 600mm }}\nrun one {{ each unit {{ shelves = s, width = {width}, height = 900mm, depth = 300mm }}, unit a, unit b }}\n{more}"
        )
    };
    let finish = "coating enamel {}\nfinish { coats = [enamel] }\n";
    let paint = "sand and paint what lies in it before the parts are joined; tape off what takes glue";
    // 197 - 80 - 18 = 99, and 198 leaves 100.
    let low = [
        "no brush gets 300 mm deep into the opening over `one.a.shelf.floor`: it is 99 mm high",
        "so it is over `one.a.shelf.floor` and `one.b.shelf.floor`",
        paint,
        "or make it 100 mm high",
    ];
    tells(&text("197mm", "600mm", finish), "brush_room", &low);
    tells(&text("198mm", "600mm", finish), "brush_room", &[]);
    // What nobody paints is not told.
    tells(&text("197mm", "600mm", ""), "brush_room", &[]);
    // 130 - 2 x 18 = 94 wide, over both shelves with something above them.
    let narrow = text("198mm", "130mm", finish);
    let compilation = compiled_text(&narrow);
    let told: Vec<&str> = of(&compilation, "brush_room").iter().map(|told| told.message.as_str()).collect();
    let over = |shelf: &str| {
        format!("no brush gets 300 mm deep into the opening over `one.a.shelf.{shelf}`: it is 94 mm wide")
    };
    assert_eq!(told, [over("floor"), over("trays")]);
}

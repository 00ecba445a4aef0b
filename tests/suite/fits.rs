//! Windows: what is made stays where its joints hold, just inside of every limit, and not just outside; what is still to be made
//! follows it.
//!
//! The carcass is 836 wide of 18 mm sheet: 800 clear. A shelf is 800 and two dados of 6: 812; a half groove, 3, must bear. A
//! divider stands 4 deep in two shelves; a bay shelf 6 in its side and 4 in the divider, 391 clear: 401. The back is 6 thick, in
//! rabbets of 6: 812 wide, and takes 6 of the depth of 300. Cleats and stretchers are 800, a rib 250 - 2 x 18 = 214, a loose shelf
//! 3 shorter than 800. Usual limits: 0.4 of play, packed to 1.6; 0.8 of gap; a loose shelf up to 6 short.

use scantling::compile::{Compilation, compile};
use scantling::parts::{JointKind, Verdict};
use scantling::quantity::Length;
use scantling::source::MemoryFiles;

const CARCASS: &str = "project { marks = 0.1mm }
sheet ply { thickness = 18mm }
sheet thin { thickness = 6mm }
carcass c {
  stock = ply
  width = 836mm
  height = 900mm
  depth = 300mm
  cleat { height = 60mm }
  back { stock = thin }
  top
  counter { over = 20mm }
  plinth { height = 80mm, set_back = 50mm }
  stretcher bottom { height = 60mm }
  shelf low {
    clear = 300mm
    bay coats {
      shelf one
    }
    bay shoes
  }
  shelf mid { adjustable { count = 1 } }
}
";

/// Two units in a frame: two stiles of 50 at the ends and one of 50 between them, of a length of 1700 less gaps of 10.
const FRAME: &str = "project { marks = 0.1mm }
sheet ply { thickness = 18mm }
board oak { thickness = 20mm }
join rail to stile with tenon { depth = 20mm }
run r {
  length = 1700mm
  end left { gap = 10mm }
  end right { gap = 10mm }
  each unit {
    stock = ply
    width = rest
    height = 900mm
    depth = 300mm
    top
    stretcher bottom { height = 60mm }
    shelf low
    shelf mid
  }
  unit a
  unit b
  facing { stock = oak, stile = 50mm, strip = 40mm, top_rail = 70mm, bottom_rail = to_floor }
}
";

fn compiled(text: &str, progress: &str) -> Compilation {
    let mut files = MemoryFiles::single("c.scant", text);
    files.insert("c.progress.scant", progress);
    compile(&files, "c.scant".into()).unwrap()
}

/// What is said of a part: `fits`, how it holds, or what is to be done.
fn said(compilation: &Compilation, path: &str) -> String {
    let id = compilation.graph.named(path).unwrap_or_else(|| panic!("no part {path}"));
    let Some(verdict) = compilation.graph.verdicts.get(&id) else { return "fits".to_owned() };
    let Verdict { lost, trim, groove, plug, widen, packed, holds } = verdict;
    let mm = |length: &Length| length.to_mm_f64().to_string();
    let list = |what: &str, all: &[Length]| {
        (!all.is_empty()).then(|| format!("{what} {}", all.iter().map(mm).collect::<Vec<_>>().join(" ")))
    };
    let mut all: Vec<String> = lost.iter().map(|why| format!("lost: {why}")).collect();
    all.extend(trim.map(|[width, length]| format!("trim {} x {}", mm(&width), mm(&length))));
    all.extend([list("plug", plug), list("groove", groove), list("widen", widen)].into_iter().flatten());
    all.extend(packed.iter().map(|play| format!("pack {play}")));
    all.extend(holds.iter().map(|how| format!("holds: {how}")));
    all.join("; ")
}

/// A made size of a part, and what is said of it.
fn cut(text: &str, rows: &[(&str, &str, &str)]) {
    for (path, size, expected) in rows {
        let quoted = if path.contains('[') { format!("\"{path}\"") } else { (*path).to_owned() };
        let compilation = compiled(text, &format!("made {{ size = {size}, cut = {quoted} }}\n"));
        assert_eq!(said(&compilation, path), *expected, "{path} made {size}");
    }
}

#[test]
fn an_end_in_a_dado_or_rabbet_bears_half_of_its_groove() {
    cut(
        CARCASS,
        &[
            ("c.shelf.low", "294mm x 812mm", "fits"),
            // One mark is told.
            ("c.shelf.low", "294mm x 811.9mm", "holds: 0.05 mm short in each groove, 5.95 mm bears"),
            ("c.shelf.low", "294mm x 806mm", "holds: 3 mm short in each groove, 3 mm bears"),
            ("c.shelf.low", "294mm x 805.9mm", "lost: only 2.95 mm of it would bear in its grooves"),
            ("c.shelf.low", "294mm x 799mm", "lost: it is 13 mm too short to reach into its grooves"),
            ("c.shelf.low", "294mm x 812.1mm", "trim 294 x 812"),
            // 6 in the side, 4 in the divider: 2 of 4 is half.
            (
                "c.shelf.low.bay.coats.shelf.one",
                "294mm x 397mm",
                "holds: 2 mm short in each groove, 2 mm bears",
            ),
            (
                "c.shelf.low.bay.coats.shelf.one",
                "294mm x 396.9mm",
                "lost: only 1.95 mm of it would bear in its grooves",
            ),
            ("c.shelf.low.bay.coats.shelf.one", "294mm x 402mm", "trim 294 x 401"),
            (
                "c.shelf.low.divider.coats.shoes",
                "294mm x 304mm",
                "holds: 2 mm short in each groove, 2 mm bears",
            ),
            (
                "c.shelf.low.divider.coats.shoes",
                "294mm x 303.9mm",
                "lost: only 1.95 mm of it would bear in its grooves",
            ),
            ("c.shelf.low.divider.coats.shoes", "294mm x 308.1mm", "trim 294 x 308"),
            ("c.top", "294mm x 806mm", "holds: 3 mm short in each groove, 3 mm bears"),
            ("c.top", "294mm x 805.9mm", "lost: only 2.95 mm of it would bear in its grooves"),
            ("c.top", "294mm x 812.1mm", "trim 294 x 812"),
        ],
    );
}

#[test]
fn a_back_bears_in_its_rabbets_by_its_width() {
    cut(
        CARCASS,
        &[
            ("c.back", "806mm x 742mm", "holds: 3 mm narrow in each groove, 3 mm bears"),
            ("c.back", "805.9mm x 742mm", "lost: only 2.95 mm of it would bear in its grooves"),
            ("c.back", "812.1mm x 742mm", "trim 812 x 742"),
            ("c.back", "812mm x 741.2mm", "holds: 0.8 mm short"),
            ("c.back", "812mm x 741.1mm", "lost: it is 0.9 mm too short"),
        ],
    );
    let grooved = format!("{CARCASS}join back to side with groove {{ depth = 5mm }}\n");
    cut(
        &grooved,
        &[
            ("c.back", "805mm x 742mm", "holds: 2.5 mm narrow in each groove, 2.5 mm bears"),
            ("c.back", "804.9mm x 742mm", "lost: only 2.45 mm of it would bear in its grooves"),
            ("c.back", "810.1mm x 742mm", "trim 810 x 742"),
        ],
    );
    let planted = format!("{CARCASS}join back to side with butt\n");
    cut(
        &planted,
        &[
            ("c.back", "835.2mm x 742mm", "holds: 0.8 mm narrow"),
            ("c.back", "835.1mm x 742mm", "lost: it is 0.9 mm too narrow"),
            ("c.back", "836.1mm x 742mm", "trim 836 x 742"),
        ],
    );
}

#[test]
fn what_no_groove_holds_may_be_a_gap_short() {
    cut(
        CARCASS,
        &[
            ("c.stretcher.bottom.front", "60mm x 799.2mm", "holds: 0.8 mm short"),
            ("c.stretcher.bottom.front", "60mm x 799.1mm", "lost: it is 0.9 mm too short"),
            ("c.stretcher.bottom.front", "60mm x 800.1mm", "trim 60 x 800"),
            ("c.cleat.top", "60mm x 799.2mm", "holds: 0.8 mm short"),
            ("c.cleat.top", "60mm x 799.1mm", "lost: it is 0.9 mm too short"),
            ("c.cleat.top", "60.1mm x 800.1mm", "trim 60 x 800"),
            ("c.cleat.top", "59.2mm x 800mm", "holds: 0.8 mm narrow"),
            ("c.cleat.top", "59.1mm x 800mm", "lost: it is 0.9 mm too narrow"),
            ("c.plinth.rib[2]", "80mm x 213.2mm", "holds: 0.8 mm short"),
            ("c.plinth.rib[2]", "80mm x 213.1mm", "lost: it is 0.9 mm too short"),
            ("c.plinth.rib[2]", "80mm x 214.1mm", "trim 80 x 214"),
            ("c.plinth.front", "80mm x 835.2mm", "holds: 0.8 mm short"),
            ("c.plinth.front", "80mm x 835.1mm", "lost: it is 0.9 mm too short"),
            ("c.plinth.front", "80mm x 836.1mm", "trim 80 x 836"),
            ("c.counter", "319.2mm x 836mm", "holds: 0.8 mm narrow"),
            ("c.counter", "319.1mm x 836mm", "lost: it is 0.9 mm too narrow"),
            ("c.counter", "320.1mm x 836mm", "trim 320 x 836"),
            ("c.side.left", "300mm x 801.2mm", "holds: 0.8 mm short"),
            ("c.side.left", "300mm x 801.1mm", "lost: it is 0.9 mm too short"),
            ("c.side.left", "300.1mm x 802mm", "trim 300 x 802"),
        ],
    );
}

#[test]
fn a_loose_shelf_has_play_on_its_pins() {
    cut(
        CARCASS,
        &[
            ("c.shelf.mid.loose[1]", "292mm x 797mm", "fits"),
            ("c.shelf.mid.loose[1]", "292mm x 798.4mm", "holds: 1.6 mm of play"),
            ("c.shelf.mid.loose[1]", "292mm x 798.5mm", "trim 292 x 797"),
            ("c.shelf.mid.loose[1]", "292mm x 794mm", "holds: 6 mm of play"),
            ("c.shelf.mid.loose[1]", "292mm x 793.9mm", "lost: it would have 6.1 mm of play on its pins"),
        ],
    );
}

/// A rail is as long as there is room between its stiles, with a tenon of 20 at each end; what is short is a gap at a shoulder.
#[test]
fn rails_and_strips_may_be_a_gap_short() {
    let length = |text: &str, path: &str| {
        let graph = compiled(text, "").graph;
        graph.part(graph.named(path).unwrap()).unwrap().size.length.value.to_mm_f64()
    };
    let stated = |length: f64, less: f64| format!("40mm x {:.1}mm", length - less);
    for text in [FRAME.to_owned(), FRAME.replace("tenon { depth = 20mm }", "butt")] {
        let whole = length(&text, "r.a.strip.mid");
        let trim = format!("trim 40 x {whole}");
        for (less, expected) in [
            (0.0, "fits"),
            (0.8, "holds: 0.8 mm short"),
            (0.9, "lost: it is 0.9 mm too short"),
            (-0.1, trim.as_str()),
        ] {
            cut(&text, &[("r.a.strip.mid", &stated(whole, less), expected)]);
        }
    }
    let plain = FRAME.replace("join rail to stile with tenon { depth = 20mm }\n", "");
    let whole = length(&plain, "r.a.strip.mid");
    cut(
        &plain,
        &[
            ("r.a.strip.mid", &stated(whole, 0.8), "holds: 0.8 mm short"),
            ("r.a.strip.mid", &stated(whole, 0.9), "lost: it is 0.9 mm too short"),
            ("r.a.strip.mid", &format!("39.1mm x {whole}mm"), "lost: it is 0.9 mm too narrow"),
        ],
    );
}

/// A side that is grooved: marks at 60, 219 and 378 for shelves, 784 for the top in its rabbet, 60 for the back.
fn grooved(text: &str, path: &str, marks: &str, grooves: &str, more: &str) -> Compilation {
    compiled(text, &format!("made {{ marks = [{marks}], grooves = [{grooves}], grooved = {path} }}\n{more}"))
}

/// Two shelves and nothing else in the sides, 18.2 wide and 6 deep at 60 and 378.
const TWO: &str = "project { marks = 0.1mm }
sheet ply { thickness = 18mm }
carcass c {
  stock = ply
  width = 836mm
  height = 900mm
  depth = 300mm
  stretcher bottom { height = 60mm }
  top
  shelf low { clear = 300mm }
  shelf mid
}
";

#[test]
fn a_groove_takes_what_is_as_thick_or_a_little_thinner() {
    let with = |width: &str| {
        let grooves = format!("18.2mm x 6mm, {width} x 6mm, 18mm x 6mm");
        said(&grooved(TWO, "c.side.left", "60mm, 378mm, 882mm", &grooves, ""), "c.side.left")
    };
    assert_eq!(with("18.2mm"), "fits");
    assert_eq!(with("18mm"), "holds: no play at 378 mm");
    assert_eq!(with("17.9mm"), "widen 378");
    assert_eq!(with("18.4mm"), "holds: 0.4 mm of play at 378 mm");
    assert_eq!(with("18.5mm"), "pack 0.5 mm of play at 378 mm");
    assert_eq!(with("19.6mm"), "pack 1.6 mm of play at 378 mm");
    assert_eq!(with("19.7mm"), "plug 378; groove 378");
    // Too shallow for a shelf that is still to be cut is made deeper; a shelf that is cut is cut down.
    let shallow = "18.2mm x 5mm, 18.2mm x 6mm, 18mm x 6mm";
    assert_eq!(
        said(&grooved(TWO, "c.side.left", "60mm, 378mm, 882mm", shallow, ""), "c.side.left"),
        "widen 60"
    );
    let shelf = "made { size = 300mm x 812mm, cut = c.shelf.low }\n";
    let both = grooved(TWO, "c.side.left", "60mm, 378mm, 882mm", shallow, shelf);
    assert_eq!([said(&both, "c.side.left"), said(&both, "c.shelf.low")], ["fits", "trim 300 x 811"]);
}

#[test]
fn a_rabbet_takes_what_is_a_gap_thinner_or_thicker() {
    let with = |width: &str| {
        let grooves = format!("18.2mm x 6mm, 18.2mm x 6mm, {width} x 6mm");
        said(&grooved(TWO, "c.side.left", "60mm, 378mm, 882mm", &grooves, ""), "c.side.left")
    };
    assert_eq!(with("18mm"), "fits");
    assert_eq!(with("17.2mm"), "holds: 0.8 mm proud at 882 mm");
    assert_eq!(with("17.1mm"), "widen 882");
    assert_eq!(with("18.8mm"), "holds: 0.8 mm of play at 882 mm");
    assert_eq!(with("18.9mm"), "pack 0.9 mm of play at 882 mm");
    assert_eq!(with("19.6mm"), "pack 1.6 mm of play at 882 mm");
    assert_eq!(with("19.7mm"), "plug 882; groove 882");
}

#[test]
fn marks_that_move_come_or_go_are_plugged_and_grooved() {
    let side = |marks: &str| {
        let size = |mark| if mark == "882mm" { "18mm x 6mm" } else { "18.2mm x 6mm" };
        let all: Vec<&str> = marks.split(", ").map(size).collect();
        said(&grooved(TWO, "c.side.left", marks, &all.join(", "), ""), "c.side.left")
    };
    assert_eq!(side("60mm, 378mm, 882mm"), "fits");
    assert_eq!(side("60mm, 378.1mm, 882mm"), "plug 378.1; groove 378");
    assert_eq!(side("60mm, 882mm"), "groove 378");
    assert_eq!(side("60mm, 200mm, 378mm, 882mm"), "plug 200");
}

/// Sheets measured anew, 0.4 thinner: a shelf between sides that are still to be cut is 0.8 short, 0.4 in each groove; between
/// sides of its own sheet it fits. Its groove is made for it, and what is still to be cut goes between the sides that are.
#[test]
fn what_is_still_to_be_made_follows_what_is_made() {
    let thinner = TWO.replace("18mm", "17.6mm");
    let shelf = "made { stock = ply, thickness = 18mm, size = 300mm x 812mm, cut = c.shelf.low }\n";
    let only_shelf = compiled(&thinner, shelf);
    assert_eq!(said(&only_shelf, "c.shelf.low"), "holds: 0.4 mm short in each groove, 5.6 mm bears");
    let groove = |compilation: &Compilation, path: &str| {
        let graph = &compilation.graph;
        let joint = graph.joints_of(graph.named(path).unwrap()).next().unwrap();
        let JointKind::Dado { width, .. } = joint.kind else { panic!("no dado") };
        (
            width.value.to_mm_f64(),
            graph.ledger.reason(width.why, &compilation.sources, compilation.model.project.marks).to_string(),
        )
    };
    assert!((groove(&only_shelf, "c.shelf.low").0 - 18.2).abs() < 1e-9);
    assert!(
        groove(&only_shelf, "c.shelf.low").1.contains("cut already"),
        "{}",
        groove(&only_shelf, "c.shelf.low").1
    );
    assert!((groove(&only_shelf, "c.shelf.mid").0 - 17.8).abs() < 1e-9);
    let sides = "made { stock = ply, thickness = 18mm, size = 300mm x 900mm, cut = c.side }\n";
    let both = compiled(&thinner, &format!("{shelf}{sides}"));
    assert_eq!([said(&both, "c.shelf.low"), said(&both, "c.side.left")], ["fits", "fits"]);
    let length = |compilation: &Compilation, path: &str| {
        let part = compilation.graph.part(compilation.graph.named(path).unwrap()).unwrap();
        compilation.model.project.marks.print(part.size.length.value).to_string()
    };
    // 836 - 2 x 17.6 = 800.8 clear by the text, 800 between the sides that are cut.
    assert_eq!([length(&only_shelf, "c.shelf.mid"), length(&both, "c.shelf.mid")], ["812.8 mm", "812 mm"]);
    assert_eq!(
        [length(&only_shelf, "c.stretcher.bottom.front"), length(&both, "c.stretcher.bottom.front")],
        ["800.8 mm", "800 mm"]
    );
    // A part that is made as the text has it changes no size.
    let as_stated = shelf.replace("18mm", "17.6mm").replace("812mm", "812.8mm");
    let [plain, made] = ["", as_stated.as_str()].map(|progress| compiled(&thinner, progress));
    assert_eq!(said(&made, "c.shelf.low"), "fits");
    let sizes =
        |of: &Compilation| of.graph.parts.iter().map(|part| part.size.length.value).collect::<Vec<_>>();
    assert_eq!(sizes(&plain), sizes(&made));
}

#[test]
fn other_stock_is_of_no_use_and_another_lot_is_told() {
    let lots = TWO
        .replace("sheet ply { thickness = 18mm }", "sheet ply {\n  lot first { thickness = 18mm }\n  lot second { thickness = 17.6mm }\n}\nsheet birch { thickness = 18mm }")
        .replace("  stock = ply\n", "  stock = ply\n  lot = second\n");
    let shelf = |stock: &str| {
        let progress = format!("made {{ {stock}, size = 300mm x 812mm, cut = c.shelf.low }}\n");
        let compilation = compiled(&lots, &progress);
        let told = compilation.diagnostics.iter().filter(|told| told.code.id == "D012");
        let told: Vec<String> = told.map(|told| told.message.clone()).collect();
        (said(&compilation, "c.shelf.low"), told.join("; "))
    };
    assert_eq!(shelf("stock = birch").0, "lost: it is of birch, and ply.second is asked for");
    assert_eq!(
        shelf("stock = ply, lot = first"),
        (
            "holds: 0.4 mm short in each groove, 5.6 mm bears".to_owned(),
            "1 made part of lot `first`, and its unit asks for `second`".to_owned()
        )
    );
    assert_eq!(shelf("stock = ply, lot = second").1, "");
}

#[test]
fn what_is_glued_in_cannot_be_cut_down() {
    let shelf = |state: &str| {
        said(
            &compiled(TWO, &format!("made {{ size = 300mm x 813mm, {state} = c.shelf.low }}\n")),
            "c.shelf.low",
        )
    };
    assert_eq!(shelf("cut"), "trim 300 x 812");
    assert!(shelf("glued").starts_with("lost: it is glued in"), "{}", shelf("glued"));
}

/// Each limit of `fits`, just inside and just outside.
#[test]
fn the_limits_are_those_that_are_stated() {
    let with = |limits: &str, of: &str, size: &str| {
        let text = CARCASS.replace("carcass c", &format!("fits {{ {limits} }}\ncarcass c"));
        let path = if of.contains('[') { format!("\"{of}\"") } else { of.to_owned() };
        said(&compiled(&text, &format!("made {{ size = {size}, cut = {path} }}\n")), of)
    };
    assert!(with("bearing = 4mm", "c.shelf.low", "294mm x 808mm").starts_with("holds"));
    assert!(with("bearing = 4mm", "c.shelf.low", "294mm x 807.9mm").starts_with("lost"));
    assert!(with("gap = 1.5mm", "c.cleat.top", "60mm x 798.5mm").starts_with("holds"));
    assert!(with("gap = 1.5mm", "c.cleat.top", "60mm x 798.4mm").starts_with("lost"));
    assert!(with("slack = 5mm", "c.shelf.mid.loose[1]", "292mm x 795mm").starts_with("holds"));
    assert!(with("slack = 5mm", "c.shelf.mid.loose[1]", "292mm x 794.9mm").starts_with("lost"));
    let groove = |limits: &str, width: &str| {
        let text = TWO.replace("carcass c", &format!("fits {{ {limits} }}\ncarcass c"));
        let grooves = format!("18.2mm x 6mm, {width} x 6mm, 18mm x 6mm");
        said(&grooved(&text, "c.side.left", "60mm, 378mm, 882mm", &grooves, ""), "c.side.left")
    };
    assert!(groove("play = 0.5mm", "18.5mm").starts_with("holds"));
    assert!(groove("play = 0.5mm", "18.6mm").starts_with("pack"));
    assert!(groove("packed = 1mm", "19mm").starts_with("pack"));
    assert!(groove("packed = 1mm", "19.1mm").starts_with("plug"));
}

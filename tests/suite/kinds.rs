//! The declarations of kinds: no property is there for nothing, and what they say of themselves holds.

use crate::compiled_text;
use crate::generated::read;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, codes, compile};
use scantling::diag::Sink;
use scantling::quantity::{Dim, Exact, System, unit};
use scantling::resolve::{JOINS, KINDS, KindSpec, Known, PropertySpec, Source, Takes, Without};
use scantling::sheets::SHEETS;
use scantling::source::{MemoryFiles, Sources};
use scantling::syntax::{Entry, EntryKind, Expr, ExprKind, parse};
use std::collections::{BTreeMap, BTreeSet};

/// Where a value of a property stands in a text: the entry and the value.
struct Stated {
    text: String,
    entry: std::ops::Range<usize>,
    value: Expr,
}

/// All properties that a text states, by kind and name.
fn stated(text: &str, into: &mut BTreeMap<(String, String), Vec<Stated>>) {
    let mut sink = Sink::default();
    let parsed = parse(Sources::default().add("test.scant", text.to_owned()), text, &mut sink);
    let mut open: Vec<(String, &[Entry])> = vec![(String::new(), &parsed.items)];
    while let Some((kind, block)) = open.pop() {
        for entry in block {
            match &entry.kind {
                EntryKind::Property(property) => {
                    let (entry, value) = (entry.span.range(), Expr::clone(&property.value));
                    let key = (kind.clone(), property.name.text.to_string());
                    into.entry(key).or_default().push(Stated { text: text.to_owned(), entry, value });
                }
                EntryKind::Declaration(declaration) => {
                    let block = declaration.block.as_deref().unwrap_or_default();
                    open.push((declaration.kind.text.to_string(), block));
                }
                EntryKind::Each { kind, block } => open.push((kind.text.to_string(), block)),
                EntryKind::Join(join) => open.push(("join".to_owned(), &join.block)),
                _ => {}
            }
        }
    }
}

/// Texts in which something is stated: the examples of messages and of the reference, and those below.
fn texts() -> Vec<String> {
    let mut texts: Vec<String> = MORE.iter().map(|&text| text.to_owned()).collect();
    for code in codes() {
        texts.extend(code.example.iter().flat_map(|example| [example.good, example.bad]).map(str::to_owned));
    }
    for piece in read("grammar/REFERENCE.md").split("\n```scant\n").skip(1) {
        texts.extend(piece.split("\n```").next().map(|text| format!("{text}\n")));
    }
    texts
}

/// The text with another value for a property, in every way that its type allows; last without it.
fn mutations(stated: &Stated, property: &PropertySpec) -> Vec<String> {
    let slice = |expr: &Expr| stated.text[expr.span.range()].to_owned();
    let own = slice(&stated.value);
    let scaled =
        |value: &str| vec![format!("({value}) * 9 / 8"), format!("({value}) / 2"), format!("({value}) * 3")];
    let values: Vec<String> = match property.takes {
        Takes::Quantity(_) | Takes::Share | Takes::Price(_) => scaled(&own),
        Takes::Count => vec![format!("({own}) + 1"), format!("({own}) + 40")],
        Takes::Lengths | Takes::Quantities(_) => match &stated.value.kind {
            ExprKind::List(items) => {
                let mut items: Vec<String> = items.iter().map(slice).collect();
                let last = items.pop().unwrap();
                scaled(&last)
                    .iter()
                    .map(|last| {
                        format!("[{}]", [items.as_slice(), std::slice::from_ref(last)].concat().join(", "))
                    })
                    .collect()
            }
            _ => scaled(&own),
        },
        Takes::Size => {
            vec!["50\" x 40\"".to_owned(), "900mm x 500mm".to_owned(), "3000mm x 1500mm".to_owned()]
        }
        Takes::Text => vec!["\"something else\"".to_owned()],
        Takes::Date => vec!["2031-03-03".to_owned()],
        Takes::Choice(words) | Takes::Choices(words) => words.iter().map(|&word| word.to_owned()).collect(),
        Takes::Load => ["books", "other", "90 lb/ft"].map(str::to_owned).to_vec(),
        Takes::Member(kind) => {
            let names = [
                "ply_hardwood_3_4",
                "walnut",
                "finish_2",
                "screw_2",
                "pva_slow",
                "caulk_1_4",
                "other",
                "ogee",
                "k.w.other",
            ];
            names.iter().map(|&name| name.to_owned()).filter(|_| !kind.is_empty()).collect()
        }
        Takes::Members(_) => vec!["[primer]".to_owned()],
        Takes::Names => vec!["[]".to_owned()],
        Takes::Truth | Takes::Word | Takes::Any => panic!("no kind takes that"),
    };
    let replaced = |range: std::ops::Range<usize>, with: &str| {
        let (before, after) = (&stated.text[..range.start], &stated.text[range.end..]);
        format!("{before}{with}{after}")
    };
    let mut all: Vec<String> =
        values.iter().map(|value| replaced(stated.value.span.range(), value)).collect();
    all.push(replaced(stated.entry.clone(), "let nothing_here = 1"));
    all
}

/// Whether a message says that a text cannot be read, named or worked out; that something lies outside of its wall (V040), or is
/// rarely so (V054), is found with values that could be.
fn unreadable(id: &str) -> bool {
    id.starts_with(['S', 'N', 'V', 'D']) && !["V040", "V054", "D005", "D013"].contains(&id)
}

/// What is made of the text that states limits for it: a shelf 4 short, a cleat 1 short, a loose shelf with 5 of play, grooves 0.3
/// and 1.2 wider than their shelves.
const MADE: &str = "made { size = 300mm x 808mm, cut = c.shelf.low }
made { size = 60mm x 799.4mm, cut = c.cleat.mid }
made { size = 298mm x 795mm, cut = \"c.shelf.mid.loose[1]\" }
made { marks = [60mm, 378mm], grooves = [18.3mm x 6mm, 19.2mm x 6mm], grooved = c.side.left }
";

/// Everything that a project gives: sheets, messages, what was compared, measures.
fn outputs(text: &str) -> (BTreeSet<&'static str>, String) {
    let compilation = if text.contains("fits {") {
        let mut files = MemoryFiles::single("test.scant", text);
        files.insert("test.progress.scant", MADE);
        compile(&files, "test.scant".into()).unwrap()
    } else {
        compiled_text(text)
    };
    let unread =
        compilation.diagnostics.iter().map(|told| told.code.id).filter(|id| unreadable(id)).collect();
    (unread, printed(&compilation))
}

fn printed(compilation: &Compilation) -> String {
    let mut out = String::new();
    for told in &compilation.diagnostics {
        out.push_str(&format!("{} {} {:?} {:?}\n", told.code.id, told.message, told.notes, told.help));
    }
    for finding in &compilation.findings {
        out.push_str(&format!(
            "{} {} {:?} {:?}\n",
            finding.code.id, finding.subject, finding.value, finding.limit
        ));
    }
    for (path, measure) in compilation.graph.measures() {
        let value = measure.length().map(|len| format!("{:?}", len.value));
        out.push_str(&format!("{path} {}\n", value.unwrap_or_else(|| format!("{:?}", measure.value))));
    }
    let subject = compilation.subject(Effort::Quick);
    for sheet in SHEETS {
        let made = (sheet.make)(subject);
        out.push_str(&format!("{}\n{:?}\n", made.json.text(), made.document));
        for drawing in sheet.draw.map(|draw| draw(subject)).unwrap_or_default() {
            out.push_str(&format!("{} {:?}\n", drawing.name, drawing.size));
        }
    }
    out
}

/// Changing the value of any property changes something that the project gives.
#[test]
fn every_property_changes_an_output() {
    let mut all = BTreeMap::new();
    texts().iter().for_each(|text| stated(text, &mut all));
    let mut known: BTreeMap<String, (BTreeSet<&'static str>, String)> = BTreeMap::new();
    let mut without_effect = Vec::new();
    for kind in KINDS {
        for property in kind.properties {
            let key = (kind.word.to_owned(), property.name.to_owned());
            let mut places = all.remove(&key).unwrap_or_default();
            places.sort_by_key(|stated| stated.text.len());
            let changes = |stated: &Stated| {
                let (unread, was) = known.entry(stated.text.clone()).or_insert_with(|| outputs(&stated.text));
                mutations(stated, property).iter().any(|text| {
                    let (now_unread, now) = outputs(text);
                    now_unread.is_subset(unread) && now != *was
                })
            };
            if !places.iter().any(changes) {
                without_effect.push(format!(
                    "{}.{}, stated in {} texts",
                    kind.word,
                    property.name,
                    places.len()
                ));
            }
        }
    }
    assert_eq!(without_effect, [""; 0]);
}

/// Texts with what no other example states: sheets and boards with all that is known of them; a run between leaning walls;
/// a carcass on a plinth; openings with bays and loose shelves; ways in; the finish.
const MORE: &[&str] = &[
    "room k {
  wall w {
    lining = 12mm
    reading low { back = 900mm, front = 900mm }
    reading middle { back = 900mm, front = 900mm }
    reading high { back = 900mm, front = 900mm }
    studs { first = 100mm, every = 300mm }
    blocking { bottom = 500mm, stock = deal }
  }
}
sheet ply { thickness = 18mm }
board deal { thickness = 40mm }
board other { thickness = 45mm }
stick s { low = 80mm, high = 600mm }
run r {
  along = k.w
  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm }
}
",
    "room k {
  wall w {
    reading low { back = 3000mm, front = 3000mm }
    reading middle { back = 3000mm, front = 3000mm }
    reading high { back = 3000mm, front = 3000mm }
    opening pane { kind = window, left = 1000mm, bottom = 800mm, width = 600mm, height = 900mm }
    opening other { kind = window, left = 1100mm, bottom = 800mm, width = 500mm, height = 900mm }
  }
}
sheet ply { thickness = 18mm }
tape thick_edge { width = 22mm, thickness = 2mm }
tape other { width = 24mm }
stick s { low = 80mm, high = 600mm }
run r {
  along = k.w
  each unit {
    shelves = s, width = 600mm, height = 900mm, depth = 300mm, top
    cleat { height = 60mm }
    edge { stock = thick_edge }
  }
  unit a { without = [top] }
  space free { over = k.w.pane }
  unit b
}
each carcass { shelves = s, width = 600mm, height = 900mm, depth = 300mm, top, cleat { height = 60mm } }
carcass c { without = [top] }
",
    "project { marks = 0.1mm, dated = 2026-11-28 }
fits { bearing = 3mm, play = 0.4mm, packed = 1.6mm, gap = 0.8mm, slack = 6mm }
sheet ply { thickness = 18mm }
carcass c {
  stock = ply
  width = 836mm
  height = 900mm
  depth = 300mm
  cleat { height = 60mm }
  stretcher bottom { height = 60mm }
  top
  shelf low { clear = 300mm }
  shelf mid { adjustable { count = 1 } }
}
",
    "project { sag = strict }
router { base = 2 7/8\", bit = 1/2\", step = 1/8\" }
glue white { open = 5 min, in_clamps = 40 min }
screw long { length = 2 1/2\", gauge = 10 }
board tulip { thickness = 3/4\", swell = 0.289 %, density = 28 lb/ft3 }
sheet ply { thickness = 23/32\", density = 36 lb/ft3, stiffness = 0.95e6 psi }
item box { height = 11\", depth = 11\", width = 27\", load = 30 lb/ft }
room r {
  moisture = 7 %
  humidity = [30 %, 50 %]
  floor { stand_on = subfloor, covering = 1/2\", size = 144\" x 120\", build = joists, joists = along, spacing = 16\", span = 12', made_for = bedroom }
  wall w {
    right = open
    lining = 1/2\"
    studs { at = [12\", 28\"] }
    reading low { back = 31\", front = 31\" }
  }
}
stick s { floor = 3\", mid = 20\", top = 38\" }
run one {
  along = r.w
  end left { gap = 1\" }
  unit a {
    shelves = s, width = rest, height = 40\", depth = 11\", cleat { height = 2 1/2\" }
    contents these { on = [floor, mid], item = box }
  }
  facing { stock = tulip, stile = 1 3/4\", top_rail = 5 1/2\" }
}
join shelf to side with dado { glue = white }
join cleat to wall with butt { screw = long }
",
    "project \"stock\" { spares = 1, paper = a4 }
saw table { kerf = 1/8\" }
vehicle { length = 6', width = 44\" }
person { count = 1, carries = 20 lb, joint = 40 s }
sheet ply {
  size = 96\" x 48\", tolerance = 1/16\", thickness = 23/32\", skim = 1/4\", density = 36 lb/ft3, price = 60 USD
  sold half { size = 48\" x 48\", price = 15 USD }
  offcut piece { size = 40\" x 24\", count = 0 }
  lot second { thickness = 11/16\", count = 0 }
}
stick lines { low = 3\", high = 20\", upper = 38\" }
carcass one { stock = ply, shelves = lines, width = 30\", height = 60\", depth = 12\" }
carcass two { stock = ply, lot = second, shelves = lines, skip = [upper], width = 30\", height = 60\", depth = 12\" }
",
    "room r { wall w {
  left = wall, right = wall, lean = whole, lining = 1/2\", fixing = masonry
  reading low { height = 0\", back = 65\", front = 65 1/4\", left_back = 0\", right_back = 0\" }
  reading high { height = 60\", back = 65\", front = 65\", left_back = 1/4\", right_back = 1/8\" }
  ceiling { above = [90\"] }
} }
saw table { kerf = 1/8\" }
sheet ply { size = 96\" x 48\", thickness = 23/32\", density = 36 lb/ft3, stiffness = 0.95e6 psi, twist = 0.075e6 psi, price = 60 USD }
sheet other { size = 96\" x 48\", thickness = 1/2\", price = 30 USD, lot second { thickness = 15/32\" } }
board fir {
  thickness = 3/4\", width = 5 1/2\", lengths = [8'], price = 3 USD/ft, density = 30 lb/ft3, stiffness = 1.4e6 psi, waste = 20 %
  offcut end { size = 60\" x 3\", spoilt = 1\" }
}
board plain { thickness = 3/4\", waste = 20 %, density = 30 lb/ft3 }
rates { cut = 3 min, groove = 9 min, sanding = 11 min, joint = 4 min, standing = 80 min, facing = 15 min, filling = 10 min, coat = 6 min }
moulding cove { width = 3\", spring = 38 deg, lengths = [8'], price = 2 USD/ft, offcut old { length = 40\", spoilt = 2\" } }
moulding ogee { width = 4\", spring = 45 deg }
nail brad { length = 2\", box = 100, price = 4 USD }
screw plugged { length = 3\", plug = 1 1/2\", box = 50, price = 6 USD }
glue yellow { open = 5 min, spread = 200 ft2/gal, bottles = [1 gal], prices = [20 USD] }
stick lines { low = 3\", high = 20\", upper = 38\" }
run long {
  along = r.w
  unit one { stock = other, lot = second, shelves = lines, width = rest, height = 60\", depth = 12\", load = books, top }
  unit two { stock = ply, shelves = lines, clear = 28\", height = 60\", depth = 12\", load = books, top, cleat { height = 2\" } }
  facing { stock = fir, stile = 2\", strip = 1 1/2\", top_rail = 3\" }
  crown { stock = cove }
  ceiling_panel { stock = ply, depth = 16\", glue = yellow, nail = brad }
}
join facing to carcass with butt { nail = brad, glue = yellow }
join cleat to wall with butt { screw = plugged, ends = 2\", pitch = 12\" }
coating paint { spread = 350 ft2/gal, work = 1 h, wait = 4 h, cans = [1 gal], prices = [40 USD] }
caulk white { bead = 1/8\", cartridge = 10 floz, price = 5 USD }
finish { coats = [paint], caulk = white }
",
    "sheet ply { size = 96\" x 48\", thickness = 23/32\", price = 60 USD, on_hand = 1 }
carcass one { width = 30\", height = 60\", depth = 12\", top, shelf low }
",
    "room r { wall w { reading low { back = 65\", front = 65 1/4\" }, reading high { back = 65\", front = 64\" } } }
sheet ply { thickness = 23/32\" }
board fir { thickness = 3/4\" }
stick lines { low = 3\", high = 20\" }
run long {
  along = r.w
  unit one { shelves = lines, width = rest, height = 60\", depth = 12\", top }
  unit two { shelves = lines, width = rest, height = 60\", depth = 12\", top }
  facing { stock = fir, stile = 2\", strip = 1 1/2\", top_rail = 3\" }
}
",
    "room r { wall w { left = plumb, lean = whole, reading low { back = 65\", front = 65\" }, reading high { back = 65\", front = 64\" } } }
sheet ply { thickness = 23/32\" }
board fir { thickness = 3/4\" }
stick lines { low = 3\", high = 20\" }
run long {
  along = r.w
  unit one { shelves = lines, width = rest, height = 60\", depth = 12\", top }
  facing { stock = fir, stile = 2\", strip = 1 1/2\", top_rail = 3\" }
}
",
    "room r { wall w { lean = whole, reading low { back = 65\", front = 65\" }, reading high { back = 65\", front = 64\" } } }
sheet ply { thickness = 23/32\" }
board fir { thickness = 3/4\" }
stick lines { low = 3\", high = 20\" }
run long {
  along = r.w
  unit one { shelves = lines, width = rest, height = 60\", depth = 12\", top }
  facing { stock = fir, lap = 1/8\", strip = 1 1/2\", top_rail = 3\" }
}
",
    "sheet ply { size = 96\" x 48\", thickness = 23/32\", density = 36 lb/ft3, stiffness = 0.95e6 psi, twist = 0.075e6 psi }
sheet other { size = 96\" x 48\", thickness = 1/2\", density = 36 lb/ft3 }
stick lines { low = 3\", high = 20\" }
carcass desk {
  stock = ply, shelves = lines, width = 30\", height = 40\", depth = 16\"
  counter { stock = other, over = 1\", gap = 1/2\" }
  plinth { stock = other, height = 4\", set_back = 3\", ribs = 10\" }
  doors { stock = other, count = 2, reveal = 1/8\" }
}
carcass chest {
  stock = ply, shelves = lines, width = 30\", height = 40\", depth = 16\"
  toe { height = 3\", depth = 2\" }
  stretcher top { height = 3\", at = front }
}
",
    "sheet ply { size = 96\" x 48\", thickness = 23/32\", density = 36 lb/ft3 }
sheet thin { size = 96\" x 48\", thickness = 1/4\", density = 36 lb/ft3 }
hinge cup { cup = 1 3/8\", depth = 1/2\", set_back = 7/8\", ends = 4\", carries = 10 lb, price = 4 USD }
pull knob { out = 2\", price = 3 USD }
slide runner { lengths = [12\", 14\"], play = 1/2\", price = 20 USD }
stick lines { low = 3\", mid = 20\", high = 50\" }
run long {
  length = 62\"
  each unit { stock = ply, shelves = lines, width = rest, height = 60\", depth = 16\" }
  unit one {
    doors { stock = thin, count = 1, between = [mid, high], fit = overlay, overlay = 1/2\", hinge = cup, hung = right, pull = knob }
    drawers { stock = thin, box = thin, bottom = thin, count = 2, between = [low, mid], fit = overlay, overlay = 1/2\", reveal = 1/8\", height = 4\", slide = runner, pull = knob }
  }
  unit two { doors { stock = thin, count = 1, between = [mid, high], hung = left, pull = knob } }
}
",
    "sheet ply { size = 96\" x 48\", thickness = 23/32\", density = 36 lb/ft3 }
sheet thin { size = 96\" x 48\", thickness = 1/4\", density = 36 lb/ft3 }
slide runner { lengths = [14\"] }
slide other { lengths = [12\"] }
tape strip { width = 1\", thickness = 1/16\" }
board fir { thickness = 1/2\" }
stick lines { low = 3\", mid = 20\", high = 50\" }
carcass one {
  stock = ply, shelves = lines, width = 30\", height = 60\", depth = 16\"
  doors { count = 2, between = [mid, high], fit = overlay, edge = strip }
  drawers { count = 2, between = [low, mid], fit = inset, bottom = thin, slide = runner, edge = strip, board = fir }
}
",
    "pin peg { diameter = 1/4\", box = 50, price = 5 USD }
borer { pitch = 1\" }
sheet ply { size = 96\" x 48\", thickness = 23/32\", stiffness = 0.95e6 psi }
board fir { thickness = 3/4\" }
run long {
  length = 40\"
  unit one {
    width = 36\", height = 60\", depth = 12\", top, load = other
    shelf low {
      clear = 20\"
      bay a { width = 12\", load = books }
      bay b { load = 60 lb/ft }
    }
    shelf high {
      adjustable {
        count = 2, pin = peg, front = 1 1/2\", rear = 2\", margin = 2\", hole_depth = 3/8\", play = 1/8\", set_back = 1/16\"
      }
    }
  }
  facing { stock = fir, lap = 1/8\", divider = 1 1/2\", strip = 1 1/2\", top_rail = 3\" }
}
",
    "pin peg { diameter = 1/4\" }
sheet ply { size = 96\" x 48\", thickness = 23/32\" }
carcass one {
  width = 36\", height = 60\", depth = 12\", top
  shelf low { adjustable { count = 2, pin = peg, pitch = 1\" } }
}
",
    "room r {
  ceiling { above = [90\"] }
  wall w {
    right = open
    reading low { back = 60\", front = 60\" }
    blocking { bottom = 16\", height = 4\", left = 10\", width = 30\" }
    studs { at = [30\"] }
  }
}
router { base = 2 7/8\", bit = 1/2\", guide = above }
person { count = 1, joint = 40 s }
glue yellow { open = 1 min }
sheet ply { thickness = 23/32\" }
stick lines { low = 2\", high = 20\", upper = 38\" }
run long {
  along = r.w, stood_up_under = 80\"
  unit one { shelves = lines, width = 50\", height = 60\", depth = 12\", stages = 1, cleat { height = 4\" } }
}
carcass two { shelves = lines, width = 30\", height = 60\", depth = 12\", stages = 1 }
join shelf to side with dado { glue = yellow }
",
    "room r {
  wall w {
    right = open
    reading low { back = 60\", front = 60\" }
    opening light { kind = window, side = left, off = 5\", left = 5\", width = 20\", bottom = 20\", height = 30\" }
  }
  route way { door front { width = 24\", height = 60\" } }
}
sheet ply { thickness = 23/32\" }
stick lines { low = 3\", high = 20\" }
run long { along = r.w, unit one { shelves = lines, width = 40\", height = 90\", depth = 16\" } }
",
    "room r {
  wall w { right = open, reading low { back = 60\", front = 60\" } }
  route way { stair up { width = 30\", rise = 6\", going = 8\", headroom = 50\" } }
}
sheet ply { thickness = 23/32\" }
stick lines { low = 3\", high = 20\" }
run long { along = r.w, unit one { shelves = lines, width = 40\", height = 90\", depth = 16\" } }
",
    "room r {
  wall w { right = open, reading low { back = 60\", front = 60\" } }
  route way {
    door front { width = 24\", height = 80\" }
    stair up { width = 30\", rise = 7 1/2\", going = 10\", headroom = 80\", turn = half, onward = 28\", landing = 34\", ceiling = 90\" }
  }
}
sheet ply { thickness = 23/32\" }
stick lines { low = 3\", high = 20\" }
run long { along = r.w, unit one { shelves = lines, width = 40\", height = 90\", depth = 16\" } }
",
    "room r {
  wall w {
    right = open
    reading low { back = 90\", front = 90\" }
    ceiling { above = [96\"] }
    opening hall { kind = door, side = left, off = 8\", width = 30\", height = 80\", leaf = 30\", hinge = near, swing = in }
    opening pass { kind = window, left = 10\", width = 20\", bottom = 20\", height = 30\", casing = 2\", decided = keep }
  }
  route way { door front { leaf = 18 1/2\", opens = right_angle, height = 60\" } }
}
sheet ply { thickness = 23/32\" }
stick lines { low = 3\", high = 20\" }
run long { along = r.w, end left { gap = 1\" }, unit one { shelves = lines, width = 36\", height = 60\", depth = 16\" } }
",
    "sheet ply { thickness = 23/32\" }
stick lines { low = 3\", high = 20\" }
carcass one { shelves = lines, width = 36\", height = 60\", depth = 16\" }
project { start = 2026-03-02 08:00 }
filler putty { box = 1 qt }
coating paint { spread = 350 ft2/gal, work = 1 h, wait = 4 h }
finish {
  coats = [paint, paint], caulk = caulk_1_8, filler = putty
  easing = 1 h, filling = 2 h, sanding = 3 h, caulking = 1 h, sanding_between = 2 h
}
",
];

fn each_property() -> impl Iterator<Item = (&'static KindSpec, &'static PropertySpec)> {
    KINDS.iter().flat_map(|kind| kind.properties.iter().map(move |property| (kind, property)))
}

/// The sources of a property's usual value and usual range.
fn sources(property: &PropertySpec) -> Vec<Source> {
    let mut sources = match property.without {
        Without::Length(usual) => usual.sources.to_vec(),
        Without::Number(_, _, source) => vec![source],
        Without::Nothing
        | Without::Follows(_)
        | Without::Needed { .. }
        | Without::Word(_)
        | Without::Count(_) => Vec::new(),
    };
    sources.extend(property.usually.iter().map(|usually| usually.source));
    sources
}

/// A source says in its words what class it is of, since reasons print the words.
#[test]
fn sources_say_what_they_are() {
    let mut seen = 0;
    let joins =
        JOINS.iter().flat_map(|join| [join.depth, join.fit]).flatten().flat_map(|usual| usual.sources);
    for source in each_property().flat_map(|(_, property)| sources(property)).chain(joins) {
        let says = (source.text.contains("common practice, no source"), source.text.contains("from memory"));
        let right = match source.known {
            Known::Common => (true, false),
            Known::Memory => (false, true),
            Known::Published | Known::Rule => (false, false),
        };
        assert_eq!(says, right, "{}", source.text);
        assert!(!source.text.is_empty());
        seen += 1;
    }
    assert!(seen > 50, "only {seen} sources");
}

/// A usual range is one of the property's dimensions, its ends stand in their order, the usual value lies in it, and it lies in
/// the range outside of which a value is doubted.
#[test]
fn usual_ranges_hold_their_usual_values() {
    let mut seen = 0;
    for (kind, property) in each_property() {
        for usually in property.usually {
            let name = format!("{}.{}", kind.word, property.name);
            for system in [System::Inch, System::Metric] {
                let ends = usually.range(system).map(|end| end.map(|end| end.exact().unwrap()));
                assert!(ends.iter().any(Option::is_some), "{name} has an open range");
                let dims: Vec<Dim> = match property.takes {
                    Takes::Quantity(dim) | Takes::Quantities(dim) => vec![dim],
                    Takes::Lengths | Takes::Size | Takes::Share => vec![Dim::LENGTH],
                    Takes::Count => vec![Dim::NONE],
                    Takes::Price(dims) => dims.to_vec(),
                    other => panic!("{name} takes {other:?}"),
                };
                let doubted = usually.doubt(system);
                for end in ends.into_iter().chain(doubted).flatten() {
                    assert!(dims.contains(&end.dim), "{name}");
                }
                if let [Some(least), Some(greatest)] = ends {
                    assert!(least.value < greatest.value, "{name}");
                }
                let wider = |inner: Option<Exact>, outer: Option<Exact>| {
                    inner.zip(outer).is_none_or(|(inner, outer)| outer.value <= inner.value)
                };
                assert!(wider(ends[0], doubted[0]) && wider(doubted[1], ends[1]), "{name}");
                if let Without::Length(usual) = property.without {
                    let [inch, mm] = usual.values;
                    let value = system.length(inch, mm).mm();
                    let least = ends[0].is_none_or(|least| least.value <= value);
                    assert!(least && ends[1].is_none_or(|greatest| value <= greatest.value), "{name}");
                }
            }
            seen += 1;
        }
    }
    assert!(seen >= 100, "only {seen} ranges");
}

/// What a message shows where something must be stated can be stated.
#[test]
fn examples_of_what_must_be_stated_name_their_property() {
    let mut seen = 0;
    for (kind, property) in each_property() {
        let Without::Needed { examples, .. } = property.without else { continue };
        for example in examples {
            assert!(example.starts_with(&format!("{} = ", property.name)), "{}: {example}", kind.word);
        }
        seen += 1;
    }
    assert!(seen >= 40, "only {seen} properties must be stated");
}

/// The working day of the table is that of a project which a caller of the library makes.
#[test]
fn the_usual_working_day_is_the_same_everywhere() {
    let of = |name: &str| {
        let (_, property) = each_property().find(|(_, property)| property.name == name).unwrap();
        match property.without {
            Without::Number((hours, 1), "h", _) => i64::try_from(hours).unwrap() * 60,
            other => panic!("{name} is without it {other:?}"),
        }
    };
    assert_eq!([of("day_begins"), of("day_ends")], scantling::eval::Project::DAY);
}

/// Every unit word that the table writes is one.
#[test]
fn usual_numbers_are_written_in_known_units() {
    for (kind, property) in each_property() {
        if let (Without::Number(_, word, _), Takes::Quantity(dim)) = (property.without, property.takes) {
            assert_eq!(unit(word).unwrap().dim, dim, "{}.{}", kind.word, property.name);
        }
    }
}

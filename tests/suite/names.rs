//! Names are names: whatever a member is called, the same parts come out, held by the same things.

use crate::{compiled_text, files_under, root};
use camino::Utf8Path;
use scantling::compile::{Compilation, compile};
use scantling::parts::{Member, PartId};
use scantling::source::{DiskFiles, FileError, Files};
use std::collections::BTreeSet;

/// Words that parts, paths and lists are made of, and names that could run into each other.
const ODD: [&str; 10] = ["stile", "strip", "rail", "shelf", "divider", "side", "bay", "a_b", "left", "loose"];

/// The disk, with one file of it as another text.
struct Renamed<'a>(&'a Utf8Path, String);

impl Files for Renamed<'_> {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        if path == self.0 { Ok(self.1.clone().into_bytes()) } else { DiskFiles.read(path) }
    }

    fn real(&self, path: &Utf8Path) -> Result<camino::Utf8PathBuf, FileError> {
        DiskFiles.real(path)
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        DiskFiles.names(folder)
    }
}

/// The names that follow a word in a text.
fn named_after(word: &str, text: &str) -> BTreeSet<String> {
    let lines = text.lines().map(|line| line.split("//").next().unwrap());
    let words = lines.flat_map(|line| line.split(|c: char| !c.is_ascii_alphanumeric() && c != '_'));
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let after = words.windows(2).filter(|pair| pair[0] == word).map(|pair| pair[1].to_owned());
    after.filter(|name| name.starts_with(|c: char| c.is_ascii_lowercase())).collect()
}

/// A text with every whole word `old` as `new`.
fn renamed(text: &str, old: &str, new: &str) -> String {
    let is_word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let (mut out, mut word) = (String::new(), String::new());
    for c in text.chars().chain(['\n']) {
        if is_word(c) {
            word.push(c);
            continue;
        }
        out.push_str(if word == old { new } else { &word });
        word.clear();
        out.push(c);
    }
    out
}

/// All that is known of a project but its names: messages by code, parts, joints, rows, openings, what is fixed to what.
fn facts(of: &Compilation) -> Vec<String> {
    let graph = &of.graph;
    let size = |id: PartId| {
        let part = graph.part(id).unwrap();
        let cut = part.cut();
        let all = [part.size.thickness, cut.width, cut.length, part.place.x, part.place.y, part.place.z];
        format!("{:?} {:?} {:?} {:?}", part.role, part.unit, part.run, all.map(|len| len.value.mm()))
    };
    let member = |member: Member| match member {
        Member::Part(id) => size(id),
        Member::Unit(id) => format!("{id:?}"),
        Member::Wall(wall) => format!("wall {wall}"),
    };
    let mut facts: Vec<String> =
        of.diagnostics.iter().map(|told| format!("{} {:?}", told.code.id, told.severity)).collect();
    facts.extend(graph.numbered().map(|(id, part)| {
        let behind: Vec<String> = part.backing.iter().map(|id| size(*id)).collect();
        format!("part {} on {behind:?}", size(id))
    }));
    facts.extend(
        graph.joints.iter().map(|joint| {
            format!("joint {} {} in {}", joint.kind.word(), size(joint.guest), size(joint.host))
        }),
    );
    facts.extend(graph.rows.iter().map(|row| {
        format!("row {:?} {} {} to {}", row.kind, row.count, member(row.guest), member(row.host))
    }));
    facts.extend(graph.openings.iter().map(|opening| {
        let sizes = [opening.clear_width, opening.clear_height, opening.opening_front, opening.depth];
        format!("opening {:?} {} loose", sizes.map(|len| len.value.mm()), opening.loose.len())
    }));
    for (id, _) in graph.numbered_units() {
        facts.push(format!(
            "{id:?} weighs {:?}",
            graph.unit_weights(&graph.cut_off())[id.0 as usize].map(|w| w.value)
        ));
    }
    for (id, _) in graph.numbered_runs() {
        facts.push(format!("{id:?} {:?}", graph.facing_weight(id).map(|w| w.value)));
    }
    facts.sort();
    facts
}

#[test]
fn renaming_a_member_changes_names_only() {
    let (mut tried, mut kinds) = (0, BTreeSet::new());
    for path in files_under("examples", ".scant") {
        let text = String::from_utf8(DiskFiles.read(&path).unwrap()).unwrap();
        let before = compile(&DiskFiles, &path).unwrap();
        if before.has_errors() || before.graph.units.is_empty() {
            continue;
        }
        let facts_before = facts(&before);
        for word in ["unit", "bay", "run"] {
            // A name that is also a word of the language, or of a module that is used, cannot be told from it here.
            let names = named_after(word, &text).into_iter();
            let mut names = names
                .filter(|name| !["left", "right", "floor", "top", "wall", "boots"].contains(&name.as_str()));
            let Some(name) = names.next() else { continue };
            for new in ODD.iter().filter(|new| !text.contains(&format!("{new} {{")) || word == "unit") {
                let text = renamed(&text, &name, new);
                let after = compile(&Renamed(&path, text), &path).unwrap();
                let facts_after = facts(&after);
                let differ = facts_before.iter().zip(&facts_after).find(|(before, after)| before != after);
                assert_eq!(differ, None, "{path}: `{word} {name}` as `{new}`");
                assert_eq!(facts_before.len(), facts_after.len(), "{path}: `{word} {name}` as `{new}`");
                tried += 1;
                kinds.insert(word);
            }
        }
    }
    assert!(tried >= 60, "only {tried} names were tried");
    assert_eq!(kinds.into_iter().collect::<Vec<_>>(), ["bay", "run", "unit"]);
}

/// A run in a room, called by the names in their order: the run, its marks, its units, the bays of its first unit.
fn in_a_room(names: &[String], marks: usize, units: usize, bays: usize, with: [bool; 5]) -> String {
    let [run, names @ ..] = names else { panic!("no names") };
    let (lines, names) = names.split_at(marks);
    let (called, names) = names.split_at(units);
    let marks: Vec<String> =
        lines.iter().enumerate().map(|(at, name)| format!("{name} = {}mm", 90 + 330 * at)).collect();
    let [facing, frame, loose, back, single] = with;
    let inner = match (bays, loose) {
        (0, true) => format!("loose {} {{ count = 2 }}", lines[0]),
        (0, false) => String::new(),
        _ => {
            let bays: Vec<String> = names[..bays].iter().map(|name| format!("bay {name}")).collect();
            format!("shelf {} {{ {} }}", lines[0], bays.join(", "))
        }
    };
    let first = format!("unit {} {{ {inner} }}", called[0]);
    let others: String = called[1..].iter().map(|name| format!("  unit {name}\n")).collect();
    let facing =
        if facing { "facing { stock = ash, stile = 45mm, strip = 40mm, top_rail = 70mm }" } else { "" };
    let frame = if frame { "join rail to stile with tenon { depth = 20mm }\n" } else { "" };
    let back = if back { "back { stock = thin }" } else { "" };
    let join = format!("join {run}.{}.shelf.{} to side with dado {{ depth = 5mm }}\n", called[0], lines[1]);
    format!(
        "project {{ marks = 1mm }}
sheet ply {{ size = 2440mm x 1220mm, thickness = 18mm, density = 650 kg/m3, stiffness = 8.5 GPa }}
sheet thin {{ size = 2440mm x 1220mm, thickness = 6mm, density = 650 kg/m3 }}
board ash {{ thickness = 20mm, density = 600 kg/m3, stiffness = 10 GPa }}
nail brad {{ length = 50mm }}
screw long {{ length = 75mm }}
room r {{ ceiling {{ above = [2500mm] }}
  wall w {{ right = open, lining = 12.5mm, studs {{ first = 300mm, every = 400mm }}
    reading low {{ back = 4000mm, front = 4000mm }} }} }}
stick lines {{ {} }}
run {run} {{ along = r.w
  end left {{ gap = 15mm }}
  each unit {{ stock = ply, shelves = lines, width = 700mm, height = 2000mm, depth = 300mm, load = books, {back}
    cleat {{ height = 70mm }} }}
  {first}
{others}  {facing}
}}
join shelf to side with dado {{ depth = 6mm, nail = brad }}
join cleat to wall {{ screw = long }}
{frame}{}",
        marks.join(", "),
        if single { join.as_str() } else { "" },
    )
}

#[test]
fn in_random_projects_names_are_names_too() {
    use proptest::prelude::*;
    let word = prop_oneof![
        prop::sample::select(&ODD[..]).prop_map(str::to_owned),
        "[a-d](_[a-d]){0,2}",
        "[a-z]{1,3}[0-9]{0,2}",
    ];
    let names = prop::collection::btree_set(word, 13..=13).prop_map(Vec::from_iter).prop_shuffle();
    let shape = (3_usize..=5, 1_usize..=4, prop::sample::select(vec![0_usize, 2, 3]), any::<[bool; 5]>());
    let compiled = |names: &[String], (marks, units, bays, with): (usize, usize, usize, [bool; 5])| {
        let text = in_a_room(names, marks, units, bays, with);
        (compiled_text(&text), text)
    };
    let plain: Vec<String> = (0..13).map(|name| format!("n{name}x")).collect();
    let sound = std::cell::Cell::new(0);
    crate::properties::runner(60)
        .run(&(names, shape), |(names, shape)| {
            // What a kind or a property is called is no name there.
            prop_assume!(!names.iter().any(|name| ["at", "on"].contains(&name.as_str())));
            let ((before, _), (after, text)) = (compiled(&plain, shape), compiled(&names, shape));
            let (before, after) = (facts(&before), facts(&after));
            let differ = before.iter().zip(&after).find(|(before, after)| before != after);
            prop_assert_eq!(differ, None, "{}", text);
            prop_assert_eq!(before.len(), after.len(), "{}", text);
            let joined = before.iter().any(|fact| fact.starts_with("joint"));
            sound.set(sound.get() + usize::from(joined));
            Ok(())
        })
        .unwrap();
    assert!(sound.get() > 50, "only {} of the projects can be built", sound.get());
}

/// Units and bays whose names joined by `_` are alike.
const ALIKE: &str = "project { marks = 1mm }
        sheet ply { size = 2440mm x 1220mm, thickness = 18mm }
        board ash { thickness = 20mm }
        stick s { low = 80mm, mid = 500mm, high = 900mm }
        run r {
          each unit { stock = ply, shelves = s, width = 600mm, height = 1000mm, depth = 300mm }
          unit a { shelf low { bay a, bay b_c, bay a_b, bay c } }
          unit b_c
          unit a_b
          unit c
          facing { stock = ash, stile = 45mm, strip = 40mm }
        }";

#[test]
fn no_two_parts_share_a_path_whatever_units_and_bays_are_called() {
    let files = scantling::source::MemoryFiles::single("p.scant", ALIKE);
    let compilation = compile(&files, "p.scant".into()).unwrap();
    let graph = &compilation.graph;
    let errors = compilation.diagnostics.iter().filter(|d| d.severity == scantling::diag::Severity::Error);
    assert_eq!(errors.count(), 0);
    let paths: BTreeSet<&str> = graph.parts.iter().map(|part| part.path.as_str()).collect();
    assert_eq!(paths.len(), graph.parts.len());
    for path in ["r.stile.a.b_c", "r.stile.b_c.a_b", "r.stile.a_b.c", "r.a.shelf.low.divider.a.b_c"] {
        assert!(paths.contains(path), "{path} is not among {paths:?}");
    }
    // Each seam is named by its own two units: `a_b` and `c` are not `a` and `b_c`.
    assert_eq!(graph.part(graph.named("r.stile.a_b.c").unwrap()).unwrap().backing.len(), 2);
}

#[test]
fn what_stands_between_two_members_keeps_the_name_that_texts_used_before() {
    let path = root().join("examples/sewing-room/sewing_room.scant");
    let graph = compile(&DiskFiles, &path).unwrap().graph;
    let part = |path: &str| graph.named(path).unwrap_or_else(|| panic!("there is no {path}"));
    assert_eq!(part("sewing.stile.one_two"), part("sewing.stile.one.two"));
    let why = graph.find("sewing.stile.one_two.width").unwrap();
    assert_eq!(why[0].0, "sewing.stile.one.two.width");
    let file = "examples/sewing-room/sewing_room.scant";
    let ask = |path| crate::command_line::scantling(&["why", file, path]).1;
    assert_eq!(ask("sewing.stile.one_two.width"), ask("sewing.stile.one.two.width"));
}

/// The seams of `a` and `b_c` and of `a_b` and `c` were both called `a_b_c`: that name calls neither, and says so.
#[test]
fn a_name_that_two_parts_had_before_calls_none_of_them() {
    let graph = compiled_text(ALIKE).graph;
    assert_eq!(graph.named("r.stile.a_b_c"), None);
    // Only one seam was called `b_c_a_b`.
    assert_eq!(graph.named("r.stile.b_c_a_b"), graph.named("r.stile.b_c.a_b"));
    assert!(graph.named("r.stile.b_c_a_b").is_some());
    let help = "`r.stile.a.b_c` and `r.stile.a_b.c` all had this name before: write which one is meant";
    assert_eq!(graph.find("r.stile.a_b_c.width").unwrap_err().shared.as_deref(), Some(help));
    let told = |statement: &str| {
        let told = compiled_text(&format!("{ALIKE}\n{statement}\n")).diagnostics;
        told.into_iter().flat_map(|told| told.help).collect::<Vec<_>>()
    };
    assert!(told("measured r.stile.a_b_c.width = 44mm because \"planed\"").contains(&help.to_owned()));
    // The shelf has two such dividers, and both meet it.
    let [a, b] = ["a.b_c", "a_b.c"].map(|name| format!("`r.a.shelf.low.divider.{name}`"));
    let help = format!("{a} and {b} all had this name before: write which one is meant");
    assert!(told("join r.a.shelf.low.divider.a_b_c to shelf with dado { depth = 5mm }").contains(&help));
    assert!(!told("join r.a.shelf.low.divider.a.b_c to shelf with dado { depth = 5mm }").contains(&help));
}

#[test]
fn every_host_of_a_row_exists_and_is_not_its_guest() {
    let mut rows = 0;
    for path in files_under("examples", ".scant") {
        let graph = compile(&DiskFiles, &path).unwrap().graph;
        for row in &graph.rows {
            for member in [row.guest, row.host] {
                assert_ne!(graph.called(member), "", "{path}");
            }
            assert_ne!(row.guest, row.host, "{path}: {} holds itself", graph.called(row.guest));
        }
        rows += graph.rows.len();
        for part in graph.parts.iter().filter(|part| part.role.is_facing()) {
            assert!(!part.backing.is_empty(), "{path}: {} is fixed to nothing", part.path);
        }
    }
    assert!(rows > 600, "{rows} rows");
}

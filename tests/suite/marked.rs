//! What holds for whatever is marked, on the examples and on random runs with a fixed seed.

use crate::compiled_text;
use crate::left::{laid_out, printed};
use crate::properties::{runner, runs};
use crate::revisions::side;
use proptest::prelude::*;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, compile};
use scantling::diff::facts;
use scantling::parts::{PartId, State};
use scantling::progress::taken_back;
use scantling::quantity::Rational;
use scantling::sheets::shopping;
use scantling::source::{MemoryFiles, Sources};
use std::cell::Cell;
use std::collections::BTreeMap;

fn with(text: &str, progress: &str) -> Compilation {
    let mut files = MemoryFiles::single("p.scant", text);
    files.insert("p.progress.scant", progress);
    compile(&files, "p.scant".into()).unwrap()
}

/// Whether a run can be built at all: a shelf may be too long to be tilted in between its stiles.
fn sound(of: &Compilation) -> bool {
    !of.has_errors()
}

/// A state for each part, from a number: none for some.
fn states(of: &Compilation, seed: u64) -> BTreeMap<PartId, State> {
    let mut state = seed;
    let mut random = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % (State::ALL.len() + 3)
    };
    of.graph.numbered().filter_map(|(id, _)| Some((id, *State::ALL.get(random())?))).collect()
}

fn noted(of: &Compilation, states: &BTreeMap<PartId, State>, more: &str) -> String {
    let line = |(id, state): (&PartId, &State)| {
        format!("made {{ {more}{state} = \"{}\" }}\n", of.graph.part(*id).unwrap().path)
    };
    states.iter().map(line).collect()
}

fn priced(text: &str) -> String {
    text.replace(
        "sheet ply { thickness = 18mm }",
        "sheet ply { thickness = 18mm, size = 2440mm x 1220mm, price = 50 EUR }",
    )
}

/// Parts that are made as the text has them change no printed size of any part, joint or opening.
#[test]
fn marking_changes_no_size() {
    runner(24)
        .run(&(runs(), any::<u64>()), |(text, seed)| {
            let plain = compiled_text(&text);
            prop_assume!(sound(&plain));
            let marked = with(&text, &noted(&plain, &states(&plain, seed), ""));
            let marks = plain.model.project.marks;
            prop_assert_eq!(facts(side("marked", &marked), marks), facts(side("plain", &plain), marks));
            Ok(())
        })
        .unwrap();
}

/// What is made of stock of another thickness changes the length of parts that are not cut yet and have an end in or at what is, and
/// nothing else of any part.
#[test]
fn only_the_length_of_what_is_still_to_be_cut_follows_what_is_made() {
    let followed = Cell::new(0);
    runner(24)
        .run(&(runs(), any::<u64>()), |(text, seed)| {
            let plain = compiled_text(&text);
            prop_assume!(sound(&plain));
            let states = states(&plain, seed);
            let marked = with(&text, &noted(&plain, &states, "thickness = 17.4mm, "));
            let cut = |id: &PartId| states.get(id).is_some_and(|state| *state >= State::Cut);
            for (before, now) in plain.graph.parts.iter().zip(&marked.graph.parts) {
                prop_assert_eq!(before.size.width.value, now.size.width.value);
                prop_assert_eq!(before.size.thickness.value, now.size.thickness.value);
                if before.size.length.value != now.size.length.value {
                    followed.set(followed.get() + 1);
                    prop_assert!(!cut(&before.id), "{}", before.path);
                    prop_assert!(
                        plain.graph.joints_of(before.id).any(|joint| cut(&joint.host)),
                        "{}",
                        before.path
                    );
                }
            }
            Ok(())
        })
        .unwrap();
    assert!(followed.get() > 50, "{followed:?}");
}

/// What is left is laid out once, what is made or served by a made piece not at all.
#[test]
fn layouts_of_what_is_left_and_what_is_made_cover_all_parts_of_random_runs_once() {
    runner(10)
        .run(&(runs(), any::<u64>()), |(text, seed)| {
            let plain = compiled_text(&text);
            prop_assume!(sound(&plain));
            let marked = with(&text, &noted(&plain, &states(&plain, seed), ""));
            let left = laid_out(&marked);
            for (id, part) in marked.graph.numbered() {
                let made = marked.graph.reached(id, State::Cut) || marked.graph.reused.contains_key(&id);
                prop_assert_eq!(left.get(&part.path), if made { None } else { Some(&1) }, "{}", &part.path);
            }
            Ok(())
        })
        .unwrap();
}

/// However many of the sheets are bought: what is spent and what is still to spend are the price of all, as long as none too many is
/// bought; then each is one price more.
#[test]
fn money_spent_and_to_spend_is_that_of_what_is_bought_and_to_buy() {
    let list = |text: &str, progress: &str| {
        let list = shopping(with(text, progress).subject(Effort::Quick));
        (list.paid.unwrap_or_default(), list.sum.unwrap_or_default())
    };
    runner(3)
        .run(&runs(), |text| {
            let text = priced(&text);
            prop_assume!(sound(&compiled_text(&text)));
            let (_, all) = list(&text, "");
            let sheets = (all / Rational::from(50)).to_integer();
            prop_assert!(sheets > 0 && all == Rational::from(50 * sheets));
            for count in [1, sheets, sheets + 1] {
                let (spent, left) = list(&text, &format!("bought {{ what = ply, count = {count} }}\n"));
                prop_assert_eq!(spent, Rational::from(50 * count));
                prop_assert_eq!(left, Rational::from(50 * (sheets - count).max(0)));
                // What was paid counts, and not the price.
                let (paid, left_then) =
                    list(&text, &format!("bought {{ what = ply, count = {count}, paid = 7 EUR }}\n"));
                prop_assert_eq!((paid, left_then), (Rational::from(7), left));
            }
            Ok(())
        })
        .unwrap();
}

/// Marks that are added and taken back leave every sheet as it was, byte for byte.
#[test]
fn a_mark_taken_back_restores_every_sheet_of_random_runs() {
    runner(6)
        .run(&(runs(), any::<u64>(), any::<u64>()), |(text, one, two)| {
            let plain = compiled_text(&text);
            prop_assume!(sound(&plain));
            let before = states(&plain, one);
            let mut added = states(&plain, two);
            added.retain(|id, _| !before.contains_key(id));
            let text_before = noted(&plain, &before, "");
            let marked = format!("{text_before}\n{}", noted(&plain, &added, "size = 280mm x 700mm, "));
            let back = added.keys().map(|id| (*id, State::Bought)).collect();
            let file = Sources::default().add("p.progress.scant", marked.clone());
            let again = taken_back(file, &marked, &with(&text, &marked).graph, &back);
            prop_assert_eq!(printed(&with(&text, &again)), printed(&with(&text, &text_before)));
            Ok(())
        })
        .unwrap();
}

/// Where everything is cut no sheet and no board is bought; where nothing is marked every sheet is as without a file.
#[test]
fn all_cut_buys_nothing_and_nothing_marked_is_as_without_a_file() {
    runner(6)
        .run(&runs(), |text| {
            let plain = compiled_text(&text);
            prop_assume!(sound(&plain));
            prop_assert_eq!(printed(&with(&text, "//! Nothing yet.\n")), printed(&plain));
            let cut = with(&text, "made { cut = r }\n");
            let list = shopping(cut.subject(Effort::Quick));
            prop_assert!(
                !list.rows.iter().any(|row| ["sheets", "boards"].contains(&row.aisle)),
                "{:?}",
                list.rows
            );
            Ok(())
        })
        .unwrap();
}

//! Fixture values made with general-purpose Python packages by the scripts in `tests/reference`; the first line of
//! each fixture states the command and the versions. How known: recomputed.

use super::shelves::ROWS;
use super::{RECOMPUTED, near};
use scantling::mechanics::beam::{PartlyLoaded, uniform_sag};
use scantling::mechanics::continuous::{Span, solve};
use scantling::mechanics::section::{Rectangle, glued};
use scantling::mechanics::shelf::{Rear, Shelf, Stiffened, Stiffener};

const BEAMS: &str = include_str!("../../reference/beams.csv");
const SECTIONS: &str = include_str!("../../reference/sections.csv");
const SHELF_PLATE: &str = include_str!("../../reference/shelf_plate.csv");

fn rows(fixture: &str) -> impl Iterator<Item = &str> {
    fixture.lines().filter(|line| !line.starts_with('#'))
}

fn rows_of<'a>(fixture: &'a str, kind: &'a str) -> impl Iterator<Item = Vec<&'a str>> {
    rows(fixture).map(|row| row.split(',').collect::<Vec<_>>()).filter(move |row| row.first() == Some(&kind))
}

fn numbers(text: &str, by: char) -> Vec<f64> {
    text.split(by).map(|number| number.parse().unwrap_or(f64::NAN)).collect()
}

/// Source: a frame-analysis library (`beams.py`).
#[test]
fn an_evenly_loaded_beam_by_a_frame_library() {
    let row = rows_of(BEAMS, "single").next().expect("its row");
    let values = numbers(&row[1..].join(","), ',');
    let [span, load, stiffness, sag] = values[..] else { panic!("{row:?}") };
    near("evenly loaded", RECOMPUTED, uniform_sag(span, load / span, stiffness), sag, 0.0, 1e-6);
}

/// Source: a frame-analysis library (`beams.py`).
#[test]
fn beams_loaded_from_one_end_by_a_frame_library() {
    for row in rows_of(BEAMS, "partly") {
        let values = numbers(&row[1..].join(","), ',');
        let [span, line_load, loaded, reaction, moment] = values[..] else { panic!("{row:?}") };
        let beam = PartlyLoaded { span, line_load, loaded };
        near("partly loaded", RECOMPUTED, beam.near_reaction(), reaction, 0.0, 1e-6);
        near("partly loaded", RECOMPUTED, beam.largest_moment(), moment, 0.0, 1e-5);
    }
    assert_eq!(rows_of(BEAMS, "partly").count(), 3);
}

/// Source: a frame-analysis library (`beams.py`), unequal spans and loads; it samples 4001 places of a span.
#[test]
fn continuous_beams_by_a_frame_library() {
    for row in rows_of(BEAMS, "continuous") {
        let [_, stiffness, lengths, loads, reactions, sags] = row[..] else { panic!("{row:?}") };
        let spans: Vec<Span> = numbers(lengths, ' ')
            .into_iter()
            .zip(numbers(loads, ' '))
            .map(|(length, line_load)| Span { length, line_load })
            .collect();
        let answer = solve(&spans, stiffness.parse().expect("a number")).expect("a sound beam");
        let reactions = numbers(reactions, ' ');
        assert_eq!(answer.reactions.len(), reactions.len());
        for (got, want) in answer.reactions.iter().zip(reactions) {
            near(lengths, RECOMPUTED, *got, want, 0.0, 1e-6);
        }
        for (got, want) in answer.spans.iter().zip(numbers(sags, ' ')) {
            near(lengths, RECOMPUTED, got.largest_deflection, want, 0.0, 1e-5);
        }
    }
    assert_eq!(rows_of(BEAMS, "continuous").count(), 4);
}

/// Source: a meshed-section library (`sections.py`).
#[test]
fn glued_sections_by_a_meshed_section_library() {
    for row in rows(SECTIONS) {
        let fields: Vec<&str> = row.split(';').collect();
        let [name, pieces, neutral_axis, held, free_to_sway] = fields[..] else { panic!("{row}") };
        let pieces: Vec<Rectangle> = numbers(pieces, ' ')
            .chunks_exact(5)
            .map(|piece| Rectangle {
                modulus: piece[0],
                width: piece[1],
                height: piece[2],
                across: piece[3],
                up: piece[4],
            })
            .collect();
        let section = glued(&pieces);
        near(name, RECOMPUTED, section.neutral_axis, neutral_axis.parse().expect("a number"), 1e-9, 1e-6);
        near(name, RECOMPUTED, section.held, held.parse().expect("a number"), 0.0, 1e-6);
        near(name, RECOMPUTED, section.free_to_sway, free_to_sway.parse().expect("a number"), 0.0, 1e-6);
    }
    assert_eq!(rows(SECTIONS).count(), 4);
}

/// A row of `shelf_plate.csv`: the shelf, and the front and rear sag of the model.
fn plate_row(row: &str) -> Option<(Stiffened, f64, f64)> {
    let values = numbers(row, ',');
    let [span, depth, thickness, strip, cleat, screwed, modulus, twist_modulus, line_load, front, rear] =
        values[..]
    else {
        return None;
    };
    let shelf = Shelf { span, depth, thickness, modulus, twist_modulus, line_load };
    let strip = (strip > 0.0).then_some(Stiffener { thickness: 0.75, height: strip, modulus: 1.58e6 });
    let cleat = Stiffener { thickness, height: cleat, modulus };
    let rear_edge = match cleat.height > 0.0 {
        false => Rear::Bare,
        true if screwed > 0.5 => Rear::Screwed(cleat),
        true => Rear::Cleat(cleat),
    };
    Some((Stiffened { shelf, strip, rear: rear_edge }, front, rear))
}

/// Source: a finite-strip folded-plate model (`shelf_plate.py`), written for this check without the rule. In the
/// twelve rows of `two_edges.csv` the rule's worse edge is 1.00 to 1.20 times this model's; at the far ends of the range up to
/// 1.32 times (48 by 9 1/4 in, screwed cleat, no strip): on the safe side.
#[test]
fn the_two_edge_rule_by_a_finite_strip_model() {
    for (index, row) in rows(SHELF_PLATE).enumerate() {
        let (stiffened, front, rear) = plate_row(row).expect("a whole row");
        let share = stiffened.sag().worse() / front.max(rear);
        let most = if index < ROWS { 1.20 } else { 1.33 };
        assert!((0.999..=most).contains(&share), "{row}: {share}");
    }
    assert_eq!(rows(SHELF_PLATE).count(), 19);
}

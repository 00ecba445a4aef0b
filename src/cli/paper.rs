//! The paper that something is printed on, as the command line says it.

use super::Failure;
use super::forms::Format;
use crate::compile::Compilation;
use crate::document::Drawing;
use crate::pages::{GRIDS, PlaceSpec};
use crate::quantity::{Length, Paper, Rational, number, unit};
use crate::sheets::Subject;
use clap::builder::{PossibleValue, PossibleValuesParser};
use num_traits::{CheckedMul, ToPrimitive};

/// The paper in the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum On {
    /// A sheet.
    Sheet(Paper),
    /// Paper from a roll, as long as it is needed.
    Roll,
}

/// The sides that a sheet may have, in hundredths of a millimetre: 10 mm to 10 m.
const SIDES: std::ops::RangeInclusive<u32> = 1_000..=1_000_000;

/// `letter`, `a4`, `roll`, or a width and a height: `62mmx29mm`.
pub(super) fn on(text: &str) -> Result<On, String> {
    match text {
        "letter" => return Ok(On::Sheet(Paper::Letter)),
        "a4" => return Ok(On::Sheet(Paper::A4)),
        "roll" => return Ok(On::Roll),
        _ => {}
    }
    let sides = text.split_once(['x', 'X']).and_then(|(wide, high)| Some([side(wide)?, side(high)?]));
    sides.map(|sides| On::Sheet(Paper::Cut(sides))).ok_or_else(|| {
        "paper is letter, a4, roll, or a width and a height of 10 mm to 10 m, such as 62mmx29mm or 4inx6in".to_owned()
    })
}

/// One side in hundredths of a millimetre.
fn side(text: &str) -> Option<u32> {
    let text = text.trim();
    let (size, word) = ["mm", "cm", "in", "\""]
        .into_iter()
        .find_map(|word| Some((text.strip_suffix(word)?, if word == "\"" { "in" } else { word })))?;
    let millimetres = number(size.trim()).ok()?.checked_mul(&unit(word)?.factor)?;
    let hundredths = millimetres.checked_mul(&Rational::from(100))?.round().to_integer().to_u32()?;
    SIDES.contains(&hundredths).then_some(hundredths)
}

/// The names of sheets of labels.
pub(super) fn grids() -> PossibleValuesParser {
    PossibleValuesParser::new(GRIDS.iter().map(|grid| PossibleValue::new(grid.name).help(grid.about)))
}

/// The drawings of a place on the sheets of labels of a name.
pub(super) fn on_labels(
    name: &str,
    (place, format): (Option<&PlaceSpec>, Format),
    subject: Subject<'_>,
) -> Result<Vec<Drawing>, Failure> {
    let draw = place.and_then(|place| place.on_labels).filter(|_| format.is_drawn());
    let grid = GRIDS.iter().find(|grid| grid.name == name);
    draw.zip(grid).map(|(draw, grid)| draw(subject, grid)).ok_or_else(|| Failure::Paper {
        message: "only drawings of `labels` are printed on sheets of labels".to_owned(),
        help: format!("write `show labels FILE --grid {name} --format pdf`"),
    })
}

/// What makes drawings for paper from a roll.
type OnRoll = fn(Subject<'_>) -> Vec<Drawing>;

/// Sets the paper of a project; of paper from a roll, what draws on that.
pub(super) fn set(
    compilation: &mut Compilation,
    paper: On,
    (what, place, format): (&str, Option<&PlaceSpec>, Format),
) -> Result<Option<OnRoll>, Failure> {
    let system = compilation.model.project.marks.system();
    let sheet = match paper {
        On::Roll => {
            if let Some(draw) = place.and_then(|place| place.on_roll).filter(|_| format.is_drawn()) {
                return Ok(Some(draw));
            }
            let message = "only drawings of the `stick` are printed from a roll".to_owned();
            let help =
                "write `show stick FILE --paper roll --format svg`, or take `letter` or `a4`".to_owned();
            return Err(Failure::Paper { message, help });
        }
        On::Sheet(sheet) => sheet,
    };
    if let Paper::Cut(_) = sheet {
        let Some(least) = place.and_then(|place| place.least).map(|least| least(system)) else {
            let message = format!("`{what}` is printed on `letter` or `a4`");
            let help = "only `labels` and `stick` are laid out for paper of any size".to_owned();
            return Err(Failure::Paper { message, help });
        };
        let marks = compilation.model.project.marks;
        let said = |sides: [f64; 2]| {
            let [wide, high] = sides.map(|side| {
                let hundredths = (side * 100.0).ceil().to_i128().unwrap_or(0);
                marks.print_fine(Length::from_mm(Rational::new(hundredths, 100))).text().to_owned()
            });
            format!("{wide} x {high}")
        };
        let own = sheet.upright();
        if own.iter().zip(least).any(|(own, least)| *own < least) {
            let message = format!("paper of {} is too small for `{what}`", said(own));
            let help = format!("take paper of at least {}, or leave `--paper` out", said(least));
            return Err(Failure::Paper { message, help });
        }
    }
    compilation.model.project.paper = Some(sheet);
    Ok(None)
}

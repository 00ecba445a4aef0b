//! The paper that something is printed on, as the command line says it.

use super::Failure;
use super::forms::Format;
use crate::compile::Compilation;
use crate::pages::{GRIDS, Grid, least_paper};
use crate::quantity::{Length, Paper, Rational, number, unit};
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

/// The sheet of labels of a name, where labels are drawn.
pub(super) fn grid(name: &str, (what, format): (&str, Format)) -> Result<&'static Grid, Failure> {
    let drawn = what == "labels" && matches!(format, Format::Svg | Format::Pdf);
    GRIDS.iter().find(|grid| drawn && grid.name == name).ok_or_else(|| Failure::Paper {
        message: "only drawings of `labels` are printed on sheets of labels".to_owned(),
        help: format!("write `show labels FILE --grid {name} --format pdf`"),
    })
}

/// Sets the paper of a project; whether it comes from a roll.
pub(super) fn set(
    compilation: &mut Compilation,
    paper: On,
    (what, format): (&str, Format),
) -> Result<bool, Failure> {
    let system = compilation.model.project.marks.system();
    let sheet = match paper {
        On::Roll if what == "stick" && matches!(format, Format::Svg | Format::Pdf) => return Ok(true),
        On::Roll => {
            let message = "only drawings of the `stick` are printed from a roll".to_owned();
            let help =
                "write `show stick FILE --paper roll --format svg`, or take `letter` or `a4`".to_owned();
            return Err(Failure::Paper { message, help });
        }
        On::Sheet(sheet) => sheet,
    };
    if let Paper::Cut(_) = sheet {
        let Some(least) = least_paper(what, system) else {
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
    Ok(false)
}

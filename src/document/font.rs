//! The type of drawings, and the one place that knows how wide words are.
//!
//! Inter (SIL Open Font License, `inter/OFL.txt`), cut down to Latin letters, figures and fractions; a drawing that shows
//! another face is made as wide.

use super::typeset::{Stands, set};
use std::sync::LazyLock;
use ttf_parser::gsub::{SingleSubstitution, SubstitutionSubtable};
use ttf_parser::{Face, GlyphId, Tag};

/// The height of capitals and figures, by which ISO 3098 names a size of letters, for a size of type of 1.
pub const CAPITALS: f64 = 2048.0 / 2816.0;
/// How far letters reach over their line at most, for capitals of a height of 1; accents of capitals and `|` reach further.
pub(super) const ABOVE: f64 = 1.13;
/// How far they reach under it.
pub(super) const BELOW: f64 = 0.3;
/// What a letter takes that the face does not have, for a size of type of 1.
const UNKNOWN: f64 = 1.0;

/// How heavy letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Words and figures.
    Regular,
    /// Heads.
    Bold,
}

/// A letter as the face draws it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the face; zero of a letter that the face does not have.
    pub id: u16,
    /// The letter.
    pub letter: char,
    /// How far it moves what follows, for a size of type of 1.
    pub width: f64,
}

impl Weight {
    /// The file of the face: OpenType with outlines of the compact kind.
    #[must_use]
    pub fn data(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("inter/Inter-Regular.otf"),
            Self::Bold => include_bytes!("inter/Inter-Bold.otf"),
        }
    }

    fn loaded(self) -> Option<&'static Loaded> {
        static REGULAR: LazyLock<Option<Loaded>> = LazyLock::new(|| Loaded::of(Weight::Regular));
        static BOLD: LazyLock<Option<Loaded>> = LazyLock::new(|| Loaded::of(Weight::Bold));
        match self {
            Self::Regular => REGULAR.as_ref(),
            Self::Bold => BOLD.as_ref(),
        }
    }

    fn face(self) -> Option<&'static Face<'static>> {
        self.loaded().map(|loaded| &loaded.face)
    }

    /// The letters of a line of words as the trade writes them, fractions with the figures that the face has for them.
    pub fn glyphs(self, says: &str) -> impl Iterator<Item = Glyph> {
        let loaded = self.loaded();
        set(says).into_iter().map(move |(letter, stands)| {
            let known = || {
                let loaded = loaded?;
                let id = loaded.glyph(letter, stands)?;
                let advance = loaded.face.glyph_hor_advance(id)?;
                let width = f64::from(advance) / f64::from(loaded.face.units_per_em());
                Some(Glyph { id: id.0, letter, width })
            };
            known().unwrap_or(Glyph { id: 0, letter, width: UNKNOWN })
        })
    }

    /// What all letters lie within, for a size of type of 1: left, lower, right and upper edge.
    #[must_use]
    pub fn bounds(self) -> [f64; 4] {
        let Some(face) = self.face() else { return [0.0; 4] };
        let bounds = face.global_bounding_box();
        let unit = f64::from(face.units_per_em());
        [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(|units| f64::from(units) / unit)
    }
}

/// A face that is read, with its figures of fractions.
struct Loaded {
    face: Face<'static>,
    /// The figures over the bar of a fraction.
    over: [Option<GlyphId>; 10],
    /// The figures under it.
    under: [Option<GlyphId>; 10],
}

impl Loaded {
    fn of(weight: Weight) -> Option<Self> {
        let face = Face::parse(weight.data(), 0).ok()?;
        let figures = |form: &[u8; 4]| {
            ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9']
                .map(|figure| substitute(&face, form, face.glyph_index(figure)?))
        };
        let (over, under) = (figures(b"numr"), figures(b"dnom"));
        Some(Self { face, over, under })
    }

    fn glyph(&self, letter: char, stands: Stands) -> Option<GlyphId> {
        let figure = || usize::try_from(letter.to_digit(10)?).ok();
        let own = match stands {
            Stands::OnLine => None,
            Stands::Over => self.over.get(figure()?).copied().flatten(),
            Stands::Under => self.under.get(figure()?).copied().flatten(),
        };
        own.or_else(|| self.face.glyph_index(letter))
    }
}

/// What a face shows in the place of a letter in one of its forms.
fn substitute(face: &Face<'_>, form: &[u8; 4], letter: GlyphId) -> Option<GlyphId> {
    let table = face.tables().gsub?;
    let feature = table.features.find(Tag::from_bytes(form))?;
    feature.lookup_indices.into_iter().find_map(|index| {
        let lookup = table.lookups.get(index)?;
        lookup.subtables.into_iter::<SubstitutionSubtable<'_>>().find_map(|subtable| {
            let SubstitutionSubtable::Single(single) = subtable else { return None };
            let place = single.coverage().get(letter)?;
            match single {
                SingleSubstitution::Format1 { delta, .. } => {
                    Some(GlyphId(letter.0.wrapping_add_signed(delta)))
                }
                SingleSubstitution::Format2 { substitutes, .. } => substitutes.get(place),
            }
        })
    })
}

/// The width of a line of words whose capitals are `height` high, in the unit of `height`.
#[must_use]
pub fn width(says: &str, weight: Weight, height: f64) -> f64 {
    weight.glyphs(says).map(|glyph| glyph.width).sum::<f64>() * height / CAPITALS
}

/// Words in lines of at most `room`; a word that is wider has a line of its own.
#[must_use]
pub fn wrapped(says: &str, weight: Weight, height: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in says.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            let longer = format!("{line} {word}");
            if width(&longer, weight, height) <= room {
                *line = longer;
                continue;
            }
        }
        lines.push(word.to_owned());
    }
    lines
}

/// Words as they are, or what of them `room` holds, with `…` for the rest.
#[must_use]
pub fn shortened(says: &str, weight: Weight, height: f64, room: f64) -> String {
    if width(says, weight, height) <= room {
        return says.to_owned();
    }
    let mut short = String::new();
    for letter in says.chars() {
        if width(&format!("{short}{letter}…"), weight, height) > room {
            break;
        }
        short.push(letter);
    }
    format!("{}…", short.trim_end())
}

/// Words as they are, or what of their beginning and their end `room` holds, with `…` between them.
#[must_use]
pub fn abridged(says: &str, weight: Weight, height: f64, room: f64) -> String {
    if width(says, weight, height) <= room {
        return says.to_owned();
    }
    let letters: Vec<char> = says.chars().collect();
    let (mut head, mut tail) = (String::new(), String::new());
    for place in 0..letters.len() {
        // In turn one letter of the beginning and one of the end.
        let mut longer = (head.clone(), tail.clone());
        let from = if place % 2 == 0 { place / 2 } else { letters.len() - 1 - place / 2 };
        let Some(letter) = letters.get(from) else { break };
        if place % 2 == 0 {
            longer.0.push(*letter)
        } else {
            longer.1.insert(0, *letter)
        }
        if width(&format!("{}…{}", longer.0, longer.1), weight, height) > room {
            break;
        }
        (head, tail) = longer;
    }
    format!("{}…{}", head.trim_end(), tail.trim_start())
}

#[cfg(test)]
mod tests {
    use super::{ABOVE, BELOW, CAPITALS, Weight, abridged, shortened, width, wrapped};

    /// Against the tables of the face, which say where each letter ends.
    #[test]
    fn a_face_says_how_wide_and_high_its_letters_are() {
        for weight in [Weight::Regular, Weight::Bold] {
            let face = weight.face().unwrap();
            let em = f64::from(face.units_per_em());
            assert!((f64::from(face.capital_height().unwrap()) / em - CAPITALS).abs() < 1e-9);
            for letter in
                ('!'..='{').chain(['}', '~']).chain(['\u{2044}', '\u{2033}', '\u{2153}', '…', 'é', 'ß'])
            {
                let bounds = face.glyph_bounding_box(face.glyph_index(letter).unwrap()).unwrap();
                let (high, low) = (f64::from(bounds.y_max), f64::from(bounds.y_min));
                assert!(
                    high <= ABOVE * CAPITALS * em && low >= -BELOW * CAPITALS * em,
                    "{letter} {high} {low}"
                );
            }
        }
        // Every figure of a fraction has a form of its own that lies within the same lines, and a fraction is narrower than its figures.
        for loaded in [Weight::Regular, Weight::Bold].map(|weight| weight.loaded().unwrap()) {
            let em = f64::from(loaded.face.units_per_em());
            for (figure, glyph) in loaded.over.iter().chain(&loaded.under).enumerate() {
                let bounds = loaded.face.glyph_bounding_box(glyph.unwrap()).unwrap();
                let (high, low) = (f64::from(bounds.y_max), f64::from(bounds.y_min));
                assert!(high <= ABOVE * CAPITALS * em && low >= -BELOW * CAPITALS * em, "{figure}");
            }
        }
        let [one, two] = ["13/16", "16/13"].map(|says| width(says, Weight::Regular, 2.5));
        assert!(one < 0.9 * two, "{one} {two}");
        assert!(width("M", Weight::Regular, 2.5) > width("i", Weight::Regular, 2.5) * 3.0);
        assert!(width("shelf", Weight::Bold, 2.5) > width("shelf", Weight::Regular, 2.5));
        // A letter that the face does not have is reckoned as wide as its size of type.
        assert!((width("木", Weight::Regular, 2.5) - 2.5 / CAPITALS).abs() < 1e-9);
    }

    #[test]
    fn words_are_broken_or_shortened_to_their_room() {
        let says = "crosscut, stop 31 5/16\": 10 x shelf";
        let lines = wrapped(says, Weight::Regular, 3.5, 60.0);
        assert!(lines.len() == 2 && lines.join(" ") == says, "{lines:?}");
        assert!(lines.iter().all(|line| width(line, Weight::Regular, 3.5) <= 60.0));
        assert_eq!(wrapped("unbreakable", Weight::Regular, 3.5, 1.0), ["unbreakable"]);
        let short = shortened(says, Weight::Regular, 3.5, 40.0);
        assert!(short.ends_with('…') && width(&short, Weight::Regular, 3.5) <= 40.0, "{short}");
        assert_eq!(shortened(says, Weight::Regular, 3.5, 400.0), says);
        let short = abridged(says, Weight::Regular, 3.5, 40.0);
        assert!(short.starts_with("crosscut") && short.ends_with("shelf") && short.contains('…'), "{short}");
        assert!(width(&short, Weight::Regular, 3.5) <= 40.0, "{short}");
        assert_eq!(abridged(says, Weight::Regular, 3.5, 400.0), says);
    }
}

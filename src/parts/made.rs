//! How far parts are made: what is bought, cut, grooved and so on, by hand or by `mark`.

use crate::quantity::{Length, Marks, Rational};
use crate::source::Span;
use serde::Serialize;
use std::fmt;
use std::sync::Arc;

/// How far a part is made; each state contains those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Its stock is there.
    Bought,
    /// It is cut to size.
    Cut,
    /// Its grooves are made.
    Grooved,
    /// It is glued into its unit.
    Glued,
    /// It stands in the room.
    Fixed,
    /// It is painted.
    Painted,
}

impl State {
    /// All states, in the order of the work.
    pub const ALL: [Self; 6] =
        [Self::Bought, Self::Cut, Self::Grooved, Self::Glued, Self::Fixed, Self::Painted];

    /// The word that the text and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bought => "bought",
            Self::Cut => "cut",
            Self::Grooved => "grooved",
            Self::Glued => "glued",
            Self::Fixed => "fixed",
            Self::Painted => "painted",
        }
    }

    /// The state of this word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.word() == word)
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// What was made of a part, as far as that is stated; what is not was as the project said at that time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Facts {
    /// The name of what it was cut from.
    pub stock: Option<Arc<str>>,
    /// The lot of stock that it was cut from.
    pub lot: Option<Arc<str>>,
    /// The thickness of that stock, as it was measured, and where it is stated.
    pub thickness: Option<(Length, Span)>,
    /// Width and length to which it was cut, and where they are stated.
    pub size: Option<([Length; 2], Span)>,
    /// The marks that were grooved, from the bottom, and where they are stated.
    pub marks: Option<(Vec<Length>, Span)>,
    /// Width and depth of those grooves: of each, or once of all; and where they are stated.
    pub grooves: Option<(Vec<[Length; 2]>, Span)>,
}

impl Facts {
    /// These, and of the ones before what these do not say.
    #[must_use]
    pub fn over(&self, before: Self) -> Self {
        Self {
            stock: self.stock.clone().or(before.stock),
            lot: self.lot.clone().or(before.lot),
            thickness: self.thickness.or(before.thickness),
            size: self.size.or(before.size),
            marks: self.marks.clone().or(before.marks),
            grooves: self.grooves.clone().or(before.grooves),
        }
    }

    /// The grooves that were made, with the mark, width and depth of each; `None` where the marks are not stated. Width and
    /// depth are those that are stated for it.
    #[must_use]
    pub fn grooved(&self) -> Option<Vec<(Length, Option<[Length; 2]>)>> {
        let (marks, _) = self.marks.as_ref()?;
        let sizes = self.grooves.as_ref().map_or(&[][..], |(sizes, _)| sizes);
        let size = |place: usize| match sizes {
            [all] => Some(*all),
            each => each.get(place).copied(),
        };
        Some(marks.iter().enumerate().map(|(place, mark)| (*mark, size(place))).collect())
    }
}

/// What is known about a part that is begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// How far it is.
    pub state: State,
    /// What was made of it.
    pub facts: Facts,
    /// Where the state is stated.
    pub span: Span,
}

/// A made part that the project does not have any more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtHand {
    /// Its path, as it was.
    pub path: String,
    /// What is known of it.
    pub made: Made,
}

/// A made piece that is cut down for a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reused {
    /// The path under which the piece was made.
    pub piece: String,
    /// Its width and length.
    pub size: [Length; 2],
}

/// How large one of something bought is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Each {
    /// A sheet: length and width.
    Size([Length; 2]),
    /// A board or stick.
    Length(Length),
    /// A can or bottle, in cubic millimetres.
    Volume(Rational),
}

/// Something that is bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bought {
    /// The name of what it is.
    pub of: Arc<str>,
    /// Its lot, where it has one.
    pub lot: Option<Arc<str>>,
    /// How many.
    pub count: usize,
    /// How large one is; `None` where it is sold in one size.
    pub each: Option<Each>,
    /// What all of it cost.
    pub paid: Option<Rational>,
    /// The three letters of the currency of that.
    pub currency: Option<Arc<str>>,
    /// Where it is stated.
    pub span: Span,
}

/// A sheet of the layout that is followed at the saw, as it was when the first of its sheets was cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Followed {
    /// The name of the sheet good.
    pub of: Arc<str>,
    /// Its lot, where it has one.
    pub lot: Option<Arc<str>>,
    /// Its number among the sheets of that stock.
    pub number: u64,
    /// Length and width as sold, or of the offcut.
    pub size: [Length; 2],
    /// The name of the offcut, where it is none that was bought whole.
    pub offcut: Option<Arc<str>>,
    /// Whether it is cut across first.
    pub across: bool,
    /// Its first cuts in working order, each with what is crosscut from it.
    pub rips: Vec<Vec<Piece>>,
    /// Width and length of what is left of it and kept.
    pub left: Vec<[Length; 2]>,
    /// Where it is stated.
    pub span: Span,
}

/// A piece of a sheet that is followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The path of the part; of a spare, of a part that it equals.
    pub path: String,
    /// What is said of it.
    pub is: PieceIs,
    /// Whether it lies turned.
    pub turned: bool,
}

/// What a piece of a sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceIs {
    /// The part.
    Part,
    /// A spare.
    Spare,
    /// What was the part, until that was made anew.
    Spoilt,
}

impl Followed {
    /// All its pieces.
    pub fn pieces(&self) -> impl Iterator<Item = &Piece> {
        self.rips.iter().flatten()
    }

    /// Whether it is of this sheet good and lot.
    #[must_use]
    pub fn is_of(&self, of: &str, lot: Option<&str>) -> bool {
        (&*self.of, self.lot.as_deref()) == (of, lot)
    }
}

/// What a change of the text means for a part that is made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Why it is of no use in its place; `None` where it is.
    pub lost: Option<String>,
    /// Width and length to which it is cut down.
    pub trim: Option<[Length; 2]>,
    /// Marks that are still to be grooved in it.
    pub groove: Vec<Length>,
    /// Marks that are plugged.
    pub plug: Vec<Length>,
    /// Marks whose grooves are made wider or deeper.
    pub widen: Vec<Length>,
    /// What its ends or edges are packed with, in words.
    pub packed: Vec<String>,
    /// How it holds although it is not as the text has it now: the play or the bearing that is left.
    pub holds: Vec<String>,
}

impl Verdict {
    /// What is done to it, in words; nothing where it stays or is lost.
    #[must_use]
    pub fn steps(&self, marks: Marks) -> Vec<String> {
        let print = |all: &[Length]| {
            all.iter().map(|mark| marks.print(*mark).to_string()).collect::<Vec<_>>().join(", ")
        };
        let at = |what: &str, all: &[Length]| (!all.is_empty()).then(|| format!("{what} at {}", print(all)));
        let trim = self
            .trim
            .map(|[width, length]| format!("cut down to {} x {}", marks.print(width), marks.print(length)));
        let grooves = [
            at("plug the groove", &self.plug),
            at("groove", &self.groove),
            at("make the groove wider or deeper", &self.widen),
        ];
        let packed = self.packed.iter().map(|play| format!("pack with veneer what has {play}"));
        trim.into_iter().chain(grooves.into_iter().flatten()).chain(packed).collect()
    }

    /// Whether it stays as it is.
    #[must_use]
    pub fn stays(&self) -> bool {
        let Self { lost, trim, groove, plug, widen, packed, holds: _ } = self;
        lost.is_none()
            && trim.is_none()
            && [groove, plug, widen].iter().all(|marks| marks.is_empty())
            && packed.is_empty()
    }
}

//! What is asked: stock, parts, the saw and its rules. All lengths are whole numbers of one common unit.

/// The way the blade travels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Parallel to the sheet's width.
    Horizontal,
    /// Parallel to the sheet's height.
    Vertical,
}

impl Axis {
    /// The other direction.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Horizontal => Self::Vertical,
            Self::Vertical => Self::Horizontal,
        }
    }
}

/// What is taken off the edges of a raw sheet before it is used, blade included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Trim {
    /// Off the left edge.
    pub left: i64,
    /// Off the right edge.
    pub right: i64,
    /// Off the bottom edge.
    pub bottom: i64,
    /// Off the top edge.
    pub top: i64,
}

impl Trim {
    /// The same skim on all four edges.
    #[must_use]
    pub const fn all(skim: i64) -> Self {
        Self { left: skim, right: skim, bottom: skim, top: skim }
    }
}

/// One size of sheet that can be had. Its grain, where it has any, runs along the width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Name, unique among the sheets.
    pub id: String,
    /// Raw width.
    pub width: i64,
    /// Raw height.
    pub height: i64,
    /// How many there are; `None` is as many as wanted.
    pub count: Option<u64>,
    /// Price of one, in any whole unit. An offcut on hand has price 0 and a count, and is used first.
    pub cost: i64,
    /// Taken off the raw edges.
    pub trim: Trim,
    /// The way a rip runs; `None` is along the longer side.
    pub rip: Option<Axis>,
}

impl Sheet {
    /// A sheet without trim, price 1, as many as wanted.
    #[must_use]
    pub fn new(id: &str, width: i64, height: i64) -> Self {
        Self { id: id.to_owned(), width, height, count: None, cost: 1, trim: Trim::default(), rip: None }
    }

    /// The way a rip runs on this sheet.
    #[must_use]
    pub const fn rip_axis(&self) -> Axis {
        match self.rip {
            Some(axis) => axis,
            None if self.width >= self.height => Axis::Horizontal,
            None => Axis::Vertical,
        }
    }

    /// Width and height that are left after the trim.
    #[must_use]
    pub const fn usable(&self) -> (i64, i64) {
        (
            self.width.saturating_sub(self.trim.left).saturating_sub(self.trim.right),
            self.height.saturating_sub(self.trim.bottom).saturating_sub(self.trim.top),
        )
    }

    /// What is left after the trim along cuts of this direction, and across them.
    #[must_use]
    pub const fn reach(&self, axis: Axis) -> (i64, i64) {
        let (width, height) = self.usable();
        match axis {
            Axis::Horizontal => (width, height),
            Axis::Vertical => (height, width),
        }
    }
}

/// How a part may lie on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grain {
    /// As given: its width along the sheet's width.
    #[default]
    Along,
    /// Always turned: its height along the sheet's width.
    Across,
    /// Either way.
    Free,
}

/// A rectangular part and how many of it are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Name, unique among the parts.
    pub id: String,
    /// Size along the sheet's width when not turned.
    pub width: i64,
    /// Size along the sheet's height when not turned.
    pub height: i64,
    /// How many.
    pub demand: u64,
    /// How it may lie.
    pub grain: Grain,
    /// Parts of one group are kept near each other where it costs nothing.
    pub group: Option<String>,
}

impl Part {
    /// A part that lies as given, in no group.
    #[must_use]
    pub fn new(id: &str, width: i64, height: i64, demand: u64) -> Self {
        Self { id: id.to_owned(), width, height, demand, grain: Grain::Along, group: None }
    }

    /// The same part with this grain rule.
    #[must_use]
    pub fn grain(mut self, grain: Grain) -> Self {
        self.grain = grain;
        self
    }
}

/// How many times the direction of cutting may change. Every stage is a set of parallel cuts from edge to edge.
///
/// Where more than two stages are allowed, the plan has two all the same unless more of them save stock. Its bound then
/// rests on area and dual feasible functions alone, so it holds for every guillotine pattern.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stages {
    /// Strips, then crosscuts.
    #[default]
    Two,
    /// Strips, crosscuts, and cuts within the pieces.
    Three,
    /// Any number: free guillotine cutting.
    Free,
}

impl Stages {
    /// The largest number of stages allowed.
    #[must_use]
    pub const fn most(self) -> u32 {
        match self {
            Self::Two => 2,
            Self::Three => 3,
            Self::Free => u32::MAX,
        }
    }
}

/// Which direction the first cuts of a sheet have.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum First {
    /// Rips first, the way [`Sheet::rip_axis`] says.
    #[default]
    Rip,
    /// This direction on every sheet.
    Only(Axis),
    /// Each sheet as it suits.
    Any,
}

/// The saw and the kind of pattern that it is to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules {
    /// Width of the blade. It may be larger than a part; 0 is a shear or a knife.
    pub kerf: i64,
    /// How often the direction may change.
    pub stages: Stages,
    /// Direction of the first cuts.
    pub first: First,
    /// Whether a part may be lower than its strip, which costs one last cut that is not counted as a stage.
    pub trimming: bool,
    /// Whether, at the same price, fewer of those last cuts are better, and fewer sheets that do not begin with rips. Each then
    /// weighs as much as a setting of one sheet.
    pub plain: bool,
}

impl Rules {
    /// Rips first, two stages, a last trimming cut allowed.
    #[must_use]
    pub const fn rip_first(kerf: i64) -> Self {
        Self { kerf, stages: Stages::Two, first: First::Rip, trimming: true, plain: false }
    }
}

/// A job of sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// The sheets that can be had.
    pub sheets: Vec<Sheet>,
    /// The parts wanted.
    pub parts: Vec<Part>,
    /// How it is cut.
    pub rules: Rules,
}

/// One length of board, bar or stick that can be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Name, unique among the bars.
    pub id: String,
    /// Raw length.
    pub length: i64,
    /// How many there are; `None` is as many as wanted.
    pub count: Option<u64>,
    /// Price of one. An offcut on hand has price 0 and a count.
    pub cost: i64,
    /// Taken off the two ends together, blade included.
    pub trim: i64,
}

/// A piece of a given length and how many of it are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarPiece {
    /// Name, unique among the pieces.
    pub id: String,
    /// Length.
    pub length: i64,
    /// How many.
    pub demand: u64,
}

/// A job of bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarJob {
    /// The bars that can be had.
    pub bars: Vec<Bar>,
    /// The pieces wanted.
    pub pieces: Vec<BarPiece>,
    /// Width of the blade.
    pub kerf: i64,
}

/// How long to look. It is counted in rounds, never by the clock: the same job gives the same plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Effort {
    /// A first plan and a bound.
    Quick,
    /// A plan that is usually proven or one sheet from the bound.
    #[default]
    Normal,
    /// More rounds.
    Thorough,
}

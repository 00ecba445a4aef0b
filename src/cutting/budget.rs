//! How much is tried, counted in rounds and steps, never by the clock.

use super::job::Effort;

/// Jobs of no more parts than this are waited for: they get less effort. What little effort proves of them is what the usual one
/// gives too, see [`super::plan_plainly`], so it goes on there to neaten.
pub(super) const SMALL: i64 = 200;

/// How much is tried at each effort.
#[derive(Clone, Copy, Debug)]
pub(super) struct Budget {
    /// Rounds of pricing at the root.
    pub root: usize,
    /// Rounds of pricing after each sheet of a dive.
    pub rounds: usize,
    /// Dives, each followed by rounds of taking a sheet away.
    pub dives: u64,
    /// Rounds of taking a sheet away after a dive.
    pub squeeze: usize,
    /// Effort of each dive; the linear program at the root may take three times as much.
    pub work: u64,
    /// Effort of looking whether a job can be had for a price.
    pub within: u64,
    /// Steps of neatening for each part, how many at most, and one in how many re-cuts sheets.
    pub neaten: (i64, i64, usize),
    /// Layouts made sheet by sheet with fees for settings, and their effort.
    pub serial: (usize, u64),
    /// So many settings in a row that cannot be done without end the search for fewer.
    pub settings: usize,
    /// Runs of ruin and recreate where more than two stages are allowed, and effort of each for each part.
    pub recreate: (u64, u64),
}

impl Budget {
    /// The budget of an effort.
    pub const fn of(effort: Effort) -> Self {
        match effort {
            Effort::Quick => Self {
                root: 200,
                rounds: 3,
                dives: 1,
                squeeze: 200,
                work: 100_000_000,
                within: 2_000_000,
                neaten: (15, 10_000, 100),
                serial: (5, 5_000_000),
                settings: 0,
                recreate: (1, 20_000),
            },
            Effort::Normal => Self {
                root: 1000,
                rounds: 6,
                dives: 4,
                squeeze: 1000,
                work: 250_000_000,
                within: 20_000_000,
                neaten: (7_000, 800_000, 120),
                serial: (400, 160_000_000),
                settings: 25,
                recreate: (4, 350_000),
            },
            Effort::Thorough => Self {
                root: 5000,
                rounds: 25,
                dives: 30,
                squeeze: 5000,
                work: 4_000_000_000,
                within: 200_000_000,
                neaten: (20_000, 3_000_000, 150),
                serial: (4000, 4_000_000_000),
                settings: 60,
                recreate: (20, 2_000_000),
            },
        }
    }

    /// The budget of an effort for so many bars or parts of sheets. Bars take a fraction of the effort of sheets; jobs of few
    /// parts are waited for and get less.
    pub const fn for_job(effort: Effort, (bars, plain): (bool, bool), parts: i64) -> Self {
        let all = Self::of(effort);
        if bars {
            let (dives, squeeze) = (all.dives.saturating_mul(2), all.squeeze.saturating_mul(4));
            Self { dives, squeeze, ..all }
        } else if parts <= SMALL && matches!(effort, Effort::Normal) {
            Self { dives: all.dives - 1, squeeze: 700, work: all.work / 2, ..all }
        } else if plain && parts <= SMALL && matches!(effort, Effort::Quick) {
            Self { neaten: (80, 12_000, 100), serial: (8, 5_000_000), settings: 4, ..all }
        } else {
            all
        }
    }

    /// Rounds and effort of taking one sheet away.
    pub const fn squeeze(&self) -> (usize, u64) {
        (self.squeeze, self.work / 2)
    }
}

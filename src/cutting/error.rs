//! Why a job cannot be planned.

/// A job that cannot be planned. Every variant names what is wrong in the words of the job.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// There is no stock at all.
    #[error("there is no stock to cut from")]
    NoStock,
    /// A name is used twice among the parts or twice among the stock.
    #[error("the name `{0}` is used twice")]
    Twice(String),
    /// A size that is zero or negative.
    #[error("`{id}` has the {what} {value}; it must be larger than zero")]
    Size {
        /// The part or stock.
        id: String,
        /// Which size.
        what: &'static str,
        /// What was given.
        value: i64,
    },
    /// A kerf, trim or price below zero.
    #[error("the {what} is {value}; it cannot be negative")]
    Negative {
        /// Which figure.
        what: &'static str,
        /// What was given.
        value: i64,
    },
    /// A figure beyond what is reckoned with.
    #[error("`{id}` is too large: {what} above {limit}")]
    TooLarge {
        /// The part or stock.
        id: String,
        /// Which figure.
        what: &'static str,
        /// The limit.
        limit: i64,
    },
    /// The trim leaves nothing of a sheet.
    #[error("the trim leaves nothing of `{0}`")]
    AllTrimmed(String),
    /// A part fits no stock in any way that its grain allows.
    #[error("`{0}` fits no stock in a direction that its grain allows")]
    Unplaceable(String),
    /// The stock on hand is not enough, or no way was found to make it enough.
    #[error("the stock does not suffice: {missing} of {wanted} parts found no place")]
    StockShort {
        /// Parts without a place.
        missing: u64,
        /// Parts in all.
        wanted: u64,
    },
    /// The exchange format could not be read.
    #[error("the instance cannot be read: {0}")]
    Format(String),
}

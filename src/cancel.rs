//! A flag by which somebody who does not need an answer any more stops the work on it.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A flag that is seen by whoever has a copy of it; work that is given one looks at it again and again.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Arc<AtomicBool>);

/// The work was stopped by a [`Cancel`]; nothing came of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped before it was done")]
pub struct Cancelled;

impl Cancel {
    /// Stops the work.
    pub fn cancel(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Goes on only where nobody stopped the work.
    ///
    /// # Errors
    /// [`Cancelled`] where somebody did.
    pub fn go_on(&self) -> Result<(), Cancelled> {
        if self.0.load(Ordering::Relaxed) { Err(Cancelled) } else { Ok(()) }
    }
}

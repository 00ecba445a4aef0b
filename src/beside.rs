//! Two things worked out beside each other, where there are threads.

/// What both give; `there` in a thread of its own with the feature `threads`, else before `here`.
#[cfg(feature = "threads")]
pub(crate) fn beside<A: Send, B>(there: impl FnOnce() -> A + Send, here: impl FnOnce() -> B) -> (A, B) {
    std::thread::scope(|scope| {
        let there = scope.spawn(there);
        let here = here();
        (there.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)), here)
    })
}

/// What both give; `there` in a thread of its own with the feature `threads`, else before `here`.
#[cfg(not(feature = "threads"))]
pub(crate) fn beside<A, B>(there: impl FnOnce() -> A, here: impl FnOnce() -> B) -> (A, B) {
    (there(), here())
}

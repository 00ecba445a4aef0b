//! Years from which a house is taken to be free of what is tested for in older ones.

/// The first year without lead in the paint of new houses (EPA, 40 CFR 745: housing built before 1978).
pub const FREE_OF_LEAD: i64 = 1978;
/// The year from which texture and tile are taken to be free of asbestos (common practice, no source).
pub const FREE_OF_ASBESTOS: i64 = 1985;

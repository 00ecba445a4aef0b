//! What several checks share: none of these files is a check.

pub(super) mod carried;
pub(super) mod dividers;
pub(super) mod over_limit;
pub(super) mod passage;
pub(super) mod place;
pub(super) mod shelf_load;
pub(super) mod wall_clearance;

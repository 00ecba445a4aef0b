//! What parts, units, runs and openings of one graph are told apart by.

macro_rules! ids {
    ($($name:ident: $what:literal;)+) => {
        $(
            #[doc = concat!("The id of ", $what, " of one graph.")]
            #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
            pub struct $name(pub u32);

            impl $name {
                #[doc = concat!("The id of ", $what, " at a position.")]
                #[must_use]
                pub fn at(position: usize) -> Self {
                    Self(u32::try_from(position).unwrap_or(u32::MAX))
                }
            }
        )+
    };
}

ids! {
    PartId: "a part";
    UnitId: "a unit";
    RunId: "a run";
    OpeningId: "an opening";
}

//! The declaration of a kind: one place from which its table, the names that readers read it by, the page of the reference and the
//! words of editors come.

/// Declares a kind: its table, and a struct with a handle for each property.
///
/// ```text
/// kind! {
///     /// what it is
///     TOE: Toe = "toe", Naming::Alone, text: false, within: ["unit", "carcass"];
///     /// what the property means
///     height: positive, needed("3 1/2\"", "90mm"), usually (Usually::between([inches(3, 1), inches(4, 1)], [mm(75), mm(100)], MEMORY));
///     /// another
///     depth: positive, length("toe space depth", (3, 1), (75, 1), COMMON);
/// }
/// ```
///
/// Behind the name of a property stands how its value is read (see `takes!`), then what holds where it is not stated (see
/// `without!`), then its usual range, if one is known:
/// one for each dimension that it may have. A property that no reader reads does not compile: its handle is a field
/// that is never read.
macro_rules! kind {
    (
        $(#[doc = $doc:literal])+
        $handle:ident: $name:ident = $word:literal, $naming:expr, text: $text:literal, within: [$($within:expr),*] $(, open: $open:expr)?;
        $(
            $(#[doc = $about:literal])+
            $property:ident: $read:ident $(($($of:tt)*))?, $else:ident $(($($value:tt)*))? $(, usually ($($usually:expr),+))?;
        )*
    ) => {
        $(#[doc = $doc])+
        #[deny(dead_code, reason = "a property that no reader reads")]
        pub(crate) struct $name {
            $($(#[doc = $about])+ pub $property: Property<marker!($read $(($($of)*))?), absent!($read $(($($of)*))?; $else)>,)*
        }

        impl $name {
            /// The kind's line of the table.
            pub(in crate::resolve) const SPEC: KindSpec = KindSpec {
                word: $word,
                doc: concat!($($doc),+).trim_ascii(),
                naming: $naming,
                text: $text,
                within: &[$($within),*],
                properties: &[$(PropertySpec {
                    name: plain(stringify!($property)),
                    takes: takes!($read $(($($of)*))?),
                    doc: concat!($($about),+).trim_ascii(),
                    without: without!($else $(($($value)*))?),
                    usually: &[$($($usually),+)?],
                },)*],
                open: open!($($open)?),
            };
        }

        /// The properties, for the readers.
        pub(crate) static $handle: $name = $name {
            $($property: Property::new(plain(stringify!($property)), value!($else $(($($value)*))?)),)*
        };
    };
}

/// What a property takes, by how it is read.
macro_rules! takes {
    (positive) => { Takes::Quantity(Dim::LENGTH) };
    (not_negative) => { Takes::Quantity(Dim::LENGTH) };
    (amount($dim:ident)) => { Takes::Quantity(Dim::$dim) };
    (number($dim:ident)) => { Takes::Quantity(Dim::$dim) };
    (whole) => { Takes::Count };
    (count) => { Takes::Count };
    (counted) => { Takes::Count };
    (share) => { Takes::Share };
    (lengths) => { Takes::Lengths };
    (amounts($dim:ident)) => { Takes::Quantities(Dim::$dim) };
    (price($($dim:ident),+)) => { Takes::Price(&[$(Dim::$dim),+]) };
    (size) => { Takes::Size };
    (text) => { Takes::Text };
    (date) => { Takes::Date };
    (choice($words:ident)) => { Takes::Choice($words::WORDS) };
    (choices($words:ident)) => { Takes::Choices($words::WORDS) };
    (member($kind:literal)) => { Takes::Member($kind) };
    (members($kind:literal)) => { Takes::Members($kind) };
    (names) => { Takes::Names };
    (load) => { Takes::Load };
}

/// The type of [`super::read`] by which a property is read.
macro_rules! marker {
    (positive) => { read::Positive };
    (not_negative) => { read::NotNegative };
    (amount($dim:ident)) => { read::Amount };
    (number($dim:ident)) => { read::Number };
    (whole) => { read::Whole };
    (count) => { read::Count };
    (counted) => { read::Amount };
    (share) => { read::Share };
    (lengths) => { read::Numbers };
    (amounts($dim:ident)) => { read::Numbers };
    (price($($dim:ident),+)) => { read::Price };
    (size) => { read::Size };
    (text) => { read::Text };
    (date) => { read::Date };
    (choice($words:ident)) => { read::Choice<$words> };
    (choices($words:ident)) => { read::Choices<$words> };
    (member($kind:literal)) => { read::Member };
    (members($kind:literal)) => { read::Members };
    (names) => { read::Names };
    (load) => { read::Load };
}

/// The type of what holds where a property is not stated.
macro_rules! absent {
    ($read:ident $(($($of:tt)*))?; optional) => { Optional };
    ($read:ident $(($($of:tt)*))?; follows) => { Optional };
    ($read:ident $(($($of:tt)*))?; needed) => { Needed };
    ($read:ident $(($($of:tt)*))?; needed_where) => { Needed };
    ($read:ident $(($($of:tt)*))?; $usual:ident) => {
        Usual<<marker!($read $(($($of)*))?) as read::Marker>::Usual>
    };
}

/// What holds where a property is not stated, for the table.
macro_rules! without {
    (optional) => { Without::Nothing };
    (follows($words:literal)) => { Without::Follows($words) };
    (needed($both:literal)) => { Without::Needed { examples: [$both, $both], when: "" } };
    (needed($inch:literal, $metric:literal)) => { Without::Needed { examples: [$inch, $metric], when: "" } };
    (needed_where($when:literal, $both:literal)) => { Without::Needed { examples: [$both, $both], when: $when } };
    (needed_where($when:literal, $inch:literal, $metric:literal)) => {
        Without::Needed { examples: [$inch, $metric], when: $when }
    };
    (length($($of:tt)*)) => { Without::Length(value!(length($($of)*)).0) };
    (word($word:expr)) => { Without::Word($word.word()) };
    (number($value:expr, $unit:literal, $source:expr)) => { Without::Number($value, $unit, $source) };
    (count($value:literal)) => { Without::Count($value) };
}

/// What holds where a property is not stated, for its reader.
macro_rules! value {
    (optional) => {
        Optional
    };
    (follows($words:literal)) => {
        Optional
    };
    (needed($both:literal)) => {
        Needed { examples: [$both, $both] }
    };
    (needed($inch:literal, $metric:literal)) => {
        Needed { examples: [$inch, $metric] }
    };
    (needed_where($when:literal, $both:literal)) => {
        Needed { examples: [$both, $both] }
    };
    (needed_where($when:literal, $inch:literal, $metric:literal)) => {
        Needed { examples: [$inch, $metric] }
    };
    (length($label:literal, $inch:expr, $metric:expr, $source:expr)) => {
        Usual(UsualLength { label: $label, values: [$inch, $metric], sources: [$source, $source] })
    };
    (length($label:literal, $inch:expr, $metric:expr, $source:expr, $metric_source:expr)) => {
        Usual(UsualLength { label: $label, values: [$inch, $metric], sources: [$source, $metric_source] })
    };
    (word($word:expr)) => {
        Usual($word)
    };
    (number($value:expr, $unit:literal, $source:expr)) => {
        Usual(($value, $unit))
    };
    (count($value:literal)) => {
        Usual($value)
    };
}

macro_rules! open {
    () => {
        None
    };
    ($takes:expr) => {
        Some($takes)
    };
}

/// Declares the words that a property offers, as a type: a new word breaks every reader that does not know it.
macro_rules! words {
    ($(#[doc = $doc:literal])+ $name:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum $name {
            $(#[doc = concat!("`", $word, "`")] $variant,)+
        }

        impl $name {
            /// The words, in the order in which they are listed.
            pub(crate) const WORDS: &'static [&'static str] = &[$($word),+];

            /// Its word.
            #[must_use]
            #[allow(dead_code, reason = "most words are only read")]
            pub(crate) const fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)+
                }
            }
        }

        impl read::Words for $name {
            fn of(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$variant),)+
                    _ => None,
                }
            }
        }
    };
}

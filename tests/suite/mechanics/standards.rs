//! Loads and limits of standards and codes.

use super::{MEMORY, RECOMPUTED, SEEN, near};
use scantling::mechanics::Units;
use scantling::mechanics::floor::FloorUse;
use scantling::mechanics::sag::{
    Board, FIRST_DAY_SPAN_OVER, LoadClass, YEARS_FACTOR, in_years, limit, line_load, most_on_one_shelf,
};
use scantling::mechanics::shelf::Shelf;

const INCH: Units = Units::INCH_POUND;

/// Source: Architectural Woodwork Standards, 1st edition (2009), 4.4.14.10.11 to 13: longest shelf, simply
/// supported, span/144, no creep. The printed lengths are the formula's, rounded down (once up).
#[test]
fn printed_span_table() {
    let rows = [
        ("span-table.01", 950000.0, 0.75, LoadClass::Other, 40.0, 40.026),
        ("span-table.03", 950000.0, 1.0, LoadClass::Other, 53.0, 53.368),
        ("span-table.04", 950000.0, 1.0, LoadClass::Books, 49.0, 49.542),
        ("span-table.05", 1800000.0, 0.75, LoadClass::Other, 49.0, 49.529),
        ("span-table.06", 1800000.0, 0.75, LoadClass::Books, 46.0, 45.979),
        ("span-table.08", 1800000.0, 1.0, LoadClass::Books, 61.0, 61.305),
        ("span-table.09", 1820000.0, 0.75, LoadClass::Other, 49.0, 49.712),
        ("span-table.11", 1820000.0, 1.0, LoadClass::Other, 66.0, 66.282),
        ("span-table.12", 1820000.0, 1.0, LoadClass::Books, 61.0, 61.531),
    ];
    for (id, modulus, thickness, class, printed, computed) in rows {
        let board = Board { modulus, thickness };
        let longest = board.longest_bare(class.area_load(&INCH), FIRST_DAY_SPAN_OVER);
        near(id, RECOMPUTED, longest, computed, 0.0, 1e-4);
        near(id, SEEN, longest, printed, 1.0, 0.0);
        // The same length by the shelf's own sag.
        let shelf = Shelf {
            span: longest,
            depth: 11.25,
            thickness,
            modulus,
            twist_modulus: 0.075e6,
            line_load: class.area_load(&INCH) * 11.25,
        };
        near(id, RECOMPUTED, shelf.bare_sag(), limit(longest, FIRST_DAY_SPAN_OVER), 0.0, 1e-9);
    }
}

/// Source: Architectural Woodwork Standards, 1st edition (2009), 1.2.21.2 and 1.2.21.3.1.1.
#[test]
fn loads_and_limit_of_the_woodwork_standard() {
    near("load aws", SEEN, LoadClass::Books.area_load(&INCH) / INCH.psf(), 50.0, 0.0, 0.0);
    near("load aws", SEEN, LoadClass::Other.area_load(&INCH) / INCH.psf(), 40.0, 0.0, 0.0);
    near("load aws", SEEN, most_on_one_shelf(&INCH), 200.0, 0.0, 0.0);
    near(
        "load, the cap",
        SEEN,
        line_load(LoadClass::Books, 60.0, 13.25, 0.75, &INCH),
        200.0 / 60.0,
        0.0,
        0.0,
    );
    near("limit aws", SEEN, 1.0 / limit(1.0, FIRST_DAY_SPAN_OVER), 144.0, 0.0, 0.0);
}

/// Source: IRC Table R301.5.
#[test]
fn floor_loads_of_the_model_code() {
    let loads = [(FloorUse::Room, 40.0), (FloorUse::SleepingRoom, 30.0)];
    for (usage, psf) in loads {
        near("load irc", SEEN, usage.live_load(&INCH) / INCH.psf(), psf, 0.0, 0.0);
    }
}

/// Sources: American Wood Council, answer on creep in its FAQ (NDS 3.5.2): 1.5 seasoned, 2.0 unseasoned or wet, 1.0 to 3.0 as the
/// range; Wood Handbook ch. 5, time under load, from memory. That 2.0 is taken for dry shelves is caution.
#[test]
fn creep() {
    near("creep nds", SEEN, YEARS_FACTOR, 2.0, 0.0, 0.0);
    // The middle of the range that the council gives, 1.0 to 3.0.
    near("creep nds", SEEN, YEARS_FACTOR, (1.0 + 3.0) / 2.0, 0.0, 0.0);
    near("creep handbook", MEMORY, 100.0 * (in_years(1.0, YEARS_FACTOR) - 1.0), 100.0, 0.0, 0.0);
}

/// Plain beam: 5 W g L^3 / (32 E b t^3), 20 kg on 800 x 300 x 18 mm of E 2500: 5 x 196.2 x 800^3 / (32 x 2500 x 300 x 5832) 3.588
/// (recomputed).
#[test]
fn fibreboard_shelf_formula() {
    let shelf = Shelf {
        span: 800.0,
        depth: 300.0,
        thickness: 18.0,
        modulus: 2500.0,
        twist_modulus: 1000.0,
        line_load: 20.0 * 9.81 / 800.0,
    };
    near("panel mdf shelf formula", RECOMPUTED, shelf.bare_sag(), 3.58848, 0.0, 1e-5);
}

//! Glued sections: their arithmetic, not the judgement of a shelf.
//!
//! Source of all: transformed section, of which four are checked by a meshed-section library (`tests/reference/sections.py`); sag
//! 5 w L^4 / (384 EI), long term 2.0 x initial; all recomputed. Plywood 23/32 x 11 1/4 in; strips of yellow-poplar
//! 3/4 x 1 1/2 in, E 1.58e6 psi; front strip outside the edge, top flush; back strip under the shelf at the back, on
//! edge or flat. A psf load acts on the overall depth.

use super::{RECOMPUTED, near};
use scantling::mechanics::Units;
use scantling::mechanics::beam::uniform_sag;
use scantling::mechanics::sag::{YEARS_FACTOR, in_years};
use scantling::mechanics::section::{Rectangle, glued, without_glue};
use scantling::mechanics::shelf::{Rear, Shelf, Stiffened, Stiffener};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Section {
    Bare,
    Front,
    FrontAndBack,
    FrontAndBackFlat,
}

#[derive(Clone, Copy)]
enum Load {
    /// Pounds per foot of span.
    Foot(f64),
    /// Pounds per square foot of overall depth.
    Area(f64),
}

const STRIP: Stiffener = Stiffener { thickness: 0.75, height: 1.5, modulus: 1.58e6 };

/// The shelf of the entries, as far as its section is one that this crate makes.
fn stiffened(section: Section, modulus: f64, span: f64, line_load: f64) -> Stiffened {
    let shelf = Shelf { span, depth: 11.25, thickness: 0.71875, modulus, twist_modulus: 0.075e6, line_load };
    Stiffened {
        shelf,
        strip: (section != Section::Bare).then_some(STRIP),
        rear: if section == Section::FrontAndBack { Rear::Cleat(STRIP) } else { Rear::Bare },
    }
}

fn pieces(section: Section, modulus: f64) -> Vec<Rectangle> {
    let mut pieces = stiffened(section, modulus, 1.0, 1.0).pieces();
    if section == Section::FrontAndBackFlat {
        pieces.push(Rectangle { modulus: 1.58e6, width: 1.5, height: 0.75, across: 0.75, up: -0.375 });
    }
    pieces
}

#[test]
fn sections() {
    let rows = [
        // id, section, E of the plywood, neutral axis over the underside, EI held, without glue, free to sway
        ("shelf section bare 1.0", Section::Bare, 1000000.0, 0.359375, 348100.66, 348100.66, 348100.66),
        ("shelf section bare 1.5", Section::Bare, 1500000.0, 0.359375, 522150.99, 522150.99, 522150.99),
        ("shelf section front 1.0", Section::Front, 1000000.0, 0.28898, 903729.16, 681381.91, 819099.17),
        ("shelf section front 1.5", Section::Front, 1500000.0, 0.309446, 1091989.6, 855432.24, 1020165.3),
        (
            "shelf section front+back 1.0",
            Section::FrontAndBack,
            1000000.0,
            0.130334,
            2862800.2,
            1014663.2,
            2650247.7,
        ),
        (
            "shelf section front+back 1.2",
            Section::FrontAndBack,
            1200000.0,
            0.158272,
            3006909.3,
            1084283.3,
            2813448.7,
        ),
        (
            "shelf section front+backflat 1.0",
            Section::FrontAndBackFlat,
            1000000.0,
            0.187594,
            1651037.2,
            764702.22,
            1617334.2,
        ),
        (
            "shelf section front+backflat 1.2",
            Section::FrontAndBackFlat,
            1200000.0,
            0.208548,
            1762557.4,
            834322.36,
            1732627.7,
        ),
        (
            "shelf section front+backflat 1.5",
            Section::FrontAndBackFlat,
            1500000.0,
            0.231876,
            1913636.3,
            938752.56,
            1887966.3,
        ),
    ];
    for (id, section, modulus, neutral_axis, held, loose, free) in rows {
        let pieces = pieces(section, modulus);
        let whole = glued(&pieces);
        near(id, RECOMPUTED, whole.neutral_axis, neutral_axis, 1e-4, 0.0);
        near(id, RECOMPUTED, whole.held, held, 0.0, 1e-5);
        near(id, RECOMPUTED, without_glue(&pieces), loose, 0.0, 1e-5);
        near(id, RECOMPUTED, whole.free_to_sway, free, 0.0, 1e-5);
    }
}

#[test]
fn sags_of_glued_sections() {
    let rows = [
        // id, section, E of the plywood, span, load, first day, doubled, span over first day
        (
            "shelf sag bare 1.0.24in 25lbperft",
            Section::Bare,
            1000000.0,
            24.0,
            Load::Foot(25.0),
            0.025855,
            0.051709,
            928.27,
        ),
        (
            "shelf sag bare 1.0.30in 20lbperft",
            Section::Bare,
            1000000.0,
            30.0,
            Load::Foot(20.0),
            0.050497,
            0.10099,
            594.09,
        ),
        (
            "shelf sag bare 1.0.36in 25lbperft",
            Section::Bare,
            1000000.0,
            36.0,
            Load::Foot(25.0),
            0.13089,
            0.26178,
            275.04,
        ),
        (
            "shelf sag bare 1.2.36in 25lbperft",
            Section::Bare,
            1200000.0,
            36.0,
            Load::Foot(25.0),
            0.10907,
            0.21815,
            330.05,
        ),
        (
            "shelf sag bare 1.2.48in 35lbperft",
            Section::Bare,
            1200000.0,
            48.0,
            Load::Foot(35.0),
            0.48262,
            0.96524,
            99.457,
        ),
        (
            "shelf sag bare 1.5.36in 40psf",
            Section::Bare,
            1500000.0,
            36.0,
            Load::Area(40.0),
            0.13089,
            0.26178,
            275.04,
        ),
        (
            "shelf sag front 1.0.24in 20lbperft",
            Section::Front,
            1000000.0,
            24.0,
            Load::Foot(20.0),
            0.007967,
            0.015934,
            3012.4,
        ),
        (
            "shelf sag front 1.0.36in 25lbperft",
            Section::Front,
            1000000.0,
            36.0,
            Load::Foot(25.0),
            0.050416,
            0.10083,
            714.06,
        ),
        (
            "shelf sag front 1.2.30in 25lbperft",
            Section::Front,
            1200000.0,
            30.0,
            Load::Foot(25.0),
            0.022416,
            0.044831,
            1338.3,
        ),
        (
            "shelf sag front 1.2.36in 35lbperft",
            Section::Front,
            1200000.0,
            36.0,
            Load::Foot(35.0),
            0.065074,
            0.13015,
            553.22,
        ),
        (
            "shelf sag front 1.2.42in 25lbperft",
            Section::Front,
            1200000.0,
            42.0,
            Load::Foot(25.0),
            0.086112,
            0.17222,
            487.74,
        ),
        (
            "shelf sag front 1.2.48in 40psf",
            Section::Front,
            1200000.0,
            48.0,
            Load::Area(40.0),
            0.23505,
            0.47009,
            204.22,
        ),
        (
            "shelf sag front 1.5.36in 40psf",
            Section::Front,
            1500000.0,
            36.0,
            Load::Area(40.0),
            0.066759,
            0.13352,
            539.25,
        ),
        (
            "shelf sag front+back 1.0.24in 25lbperft",
            Section::FrontAndBack,
            1000000.0,
            24.0,
            Load::Foot(25.0),
            0.0031438,
            0.0062876,
            7634.1,
        ),
        (
            "shelf sag front+back 1.0.42in 25lbperft",
            Section::FrontAndBack,
            1000000.0,
            42.0,
            Load::Foot(25.0),
            0.029485,
            0.05897,
            1424.4,
        ),
        (
            "shelf sag front+back 1.0.48in 35lbperft",
            Section::FrontAndBack,
            1000000.0,
            48.0,
            Load::Foot(35.0),
            0.070421,
            0.14084,
            681.62,
        ),
        (
            "shelf sag front+back 1.2.30in 35lbperft",
            Section::FrontAndBack,
            1200000.0,
            30.0,
            Load::Foot(35.0),
            0.01023,
            0.020461,
            2932.5,
        ),
        (
            "shelf sag front+back 1.2.36in 25lbperft",
            Section::FrontAndBack,
            1200000.0,
            36.0,
            Load::Foot(25.0),
            0.015153,
            0.030305,
            2375.8,
        ),
        (
            "shelf sag front+back 1.2.42in 35lbperft",
            Section::FrontAndBack,
            1200000.0,
            42.0,
            Load::Foot(35.0),
            0.039301,
            0.078602,
            1068.7,
        ),
        (
            "shelf sag front+back 1.2.48in 20lbperft",
            Section::FrontAndBack,
            1200000.0,
            48.0,
            Load::Foot(20.0),
            0.038312,
            0.076624,
            1252.9,
        ),
        (
            "shelf sag front+back 1.2.48in 35lbperft",
            Section::FrontAndBack,
            1200000.0,
            48.0,
            Load::Foot(35.0),
            0.067046,
            0.13409,
            715.93,
        ),
        (
            "shelf sag front+back 1.5.36in 40psf",
            Section::FrontAndBack,
            1500000.0,
            36.0,
            Load::Area(40.0),
            0.022822,
            0.045644,
            1577.4,
        ),
        (
            "shelf sag front+backflat 1.2.36in 25lbperft",
            Section::FrontAndBackFlat,
            1200000.0,
            36.0,
            Load::Foot(25.0),
            0.02585,
            0.0517,
            1392.6,
        ),
        (
            "shelf sag front+backflat 1.2.48in 35lbperft",
            Section::FrontAndBackFlat,
            1200000.0,
            48.0,
            Load::Foot(35.0),
            0.11438,
            0.22876,
            419.66,
        ),
    ];
    for (id, section, modulus, span, load, initial, doubled, span_over) in rows {
        let depth = if section == Section::Bare { 11.25 } else { 12.0 };
        let line_load = match load {
            Load::Foot(pounds) => pounds / 12.0,
            Load::Area(pounds) => pounds * Units::INCH_POUND.psf() * depth,
        };
        let sag = uniform_sag(span, line_load, glued(&pieces(section, modulus)).held);
        near(id, RECOMPUTED, sag, initial, 0.0, 2e-4);
        near(id, RECOMPUTED, in_years(sag, YEARS_FACTOR), doubled, 0.0, 2e-4);
        near(id, RECOMPUTED, span / sag, span_over, 0.0, 3e-4);
        if section != Section::FrontAndBackFlat {
            let bound = stiffened(section, modulus, span, line_load).rigid_bound();
            near(id, RECOMPUTED, bound, initial, 0.0, 2e-4);
        }
    }
}

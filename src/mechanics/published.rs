//! The ends of published ranges: a value that nobody states is missing only where such an end would fail a check.

/// The densest wood or panel to be expected, kg/m3: live oak, specific gravity 0.88, at 12 % moisture (Wood Handbook,
/// FPL-GTR-190, Table 5-3; from memory), rounded up.
pub const DENSEST: f64 = 1000.0;

/// The least modulus of elasticity of a panel, N/mm2: particleboard of grade LD-1 (ANSI A208.1, from memory).
pub const LEAST_STIFF_SHEET: f64 = 550.0;

/// The least modulus of elasticity of a board along the grain, N/mm2: northern white-cedar at 12 % moisture, 0.80e6 psi
/// (Wood Handbook, FPL-GTR-190, Table 5-3; from memory).
pub const LEAST_STIFF_BOARD: f64 = 5516.0;

/// The greatest change of width for each per cent of moisture, as a share: American beech, tangential (Wood Handbook,
/// FPL-GTR-190, Table 13-5).
pub const MOST_SWELL: f64 = 0.004_31;

/// The thickest lining of a wall to be expected, mm: plaster on lath, 7/8 in (common practice, no source).
pub const THICKEST_LINING: f64 = 22.225;

/// The longest time for one housed joint and the shortest open time of a glue to be expected, in seconds (common practice, no
/// source).
pub const SLOW_JOINT: f64 = 60.0;
/// See [`SLOW_JOINT`].
pub const SHORT_OPEN: f64 = 240.0;

/// The lowest ceiling of a habitable room, mm: 7 ft (International Residential Code 2021, R305.1; from memory).
pub const LOWEST_CEILING: f64 = 2133.6;

/// The longest stick of a moulding that every yard has, mm: 8 ft (common practice, no source).
pub const USUAL_STICK: f64 = 2438.4;

/// The panel that every yard has, mm: 8 by 4 ft (common practice, no source).
pub const USUAL_PANEL: [f64; 2] = [2438.4, 1219.2];

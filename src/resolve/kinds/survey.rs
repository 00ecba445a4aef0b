//! What is in the way: obstacles and openings.

use super::{
    KindSpec, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual, UsualLength, Usually,
    Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

words! {
    /// What an obstacle is.
    ObstacleKind {
        Outlet = "outlet",
        Switch = "switch",
        Data = "data",
        Thermostat = "thermostat",
        SmokeAlarm = "smoke_alarm",
        Light = "light",
        FloorRegister = "floor_register",
        WallRegister = "wall_register",
        ReturnGrille = "return_grille",
        Heater = "heater",
        Pipe = "pipe",
        Baseboard = "baseboard",
        ChairRail = "chair_rail",
        Crown = "crown",
        Casing = "casing",
        Sill = "sill",
    }
}

words! {
    /// What is decided about an obstacle.
    ObstacleDecided { Keep = "keep", Remove = "remove", CutRound = "cut_round", BringFlush = "bring_flush" }
}

words! {
    /// What an opening is.
    OpeningKind { Door = "door", Window = "window", CasedOpening = "cased_opening" }
}

words! {
    /// The wall of an opening that is not in this one.
    Side { Left = "left", Right = "right", Opposite = "opposite" }
}

words! {
    /// The edge that a leaf hangs on.
    Hinge { Left = "left", Right = "right", Near = "near", Far = "far" }
}

words! {
    /// Where a leaf swings.
    Swing { In = "in", Out = "out" }
}

words! {
    /// What is decided about an opening.
    OpeningDecided { Keep = "keep", Remove = "remove", CutRound = "cut_round" }
}

/// Where something begins that does not state it: at the level line, at the wall.
pub(crate) const BEGINNING: UsualLength =
    UsualLength::new("beginning", (0, 1), (0, 1), Source::rule("what does not state it begins there"));

kind! {
    /// what is in the way on a wall, at its foot or on the ceiling; heights count from the level line
    OBSTACLE: Obstacle = "obstacle", Naming::Needed, text: true, within: ["room", "wall"];
    /// what it is
    kind: choice(ObstacleKind), needed("kind = outlet");
    /// from the left corner of the wall to its left edge
    left: not_negative, needed_where("but for trim along the whole wall and on the ceiling", "left = 40\"", "left = 1000mm");
    /// to its lower edge; what stands on the floor begins at the level line
    bottom: not_negative, needed_where("where it hangs on the wall", "bottom = 14\"", "bottom = 350mm");
    /// along the wall; trim without `left` and `width` runs along all of it
    width: positive, needed_where("but for trim along the whole wall and on the ceiling", "width = 2 3/4\"", "width = 70mm");
    /// from its lower to its upper edge
    height: positive, needed_where("but for a floor register and what hangs", "height = 4\"", "height = 100mm");
    /// from the wall to its near edge
    off: not_negative, follows("it stands at the wall");
    /// how far it reaches out from there
    projection: not_negative, needed_where("of trim, registers in the floor and heaters", "projection = 3/4\"", "projection = 20mm"), usually (Usually::wide([inches(1, 32), inches(48, 1)], [mm(1), mm(1200)]));
    /// of a box in the wall: how far its front edge stands behind the face of the lining
    recessed: not_negative, follows("it is flush"), usually (Usually::wide([inches(1, 32), inches(4, 1)], [mm(1), mm(100)]));
    /// how far what is fixed to the ceiling hangs under it
    hangs: positive, needed_where("of crown, and of a light or alarm on the ceiling", "hangs = 5\"", "hangs = 120mm"), usually (Usually::wide([inches(1, 4), inches(72, 1)], [mm(6), mm(1800)]).called("drop"));
    /// it stays as it is; it is taken off or moved; parts are cut round it; its box or duct is brought out flush with the work
    decided: choice(ObstacleDecided), word(ObstacleDecided::Keep);
}

kind! {
    /// a door, a window or a cased opening of the wall, of a return wall or of the wall across the room
    OPENING: Opening = "opening", Naming::Needed, text: true, within: ["wall"];
    /// what it is
    kind: choice(OpeningKind), needed("kind = door");
    /// it is in the return wall at that end, or across the room
    side: choice(Side), follows("it is in this wall");
    /// from the left corner to its left edge, casing not counted
    left: not_negative, needed_where("but in a return wall", "left = 20\"", "left = 500mm");
    /// in a return wall: from this wall to its near edge; across the room: to the wall it is in
    off: not_negative, needed_where("in a return wall and across the room", "off = 120\"", "off = 3000mm");
    /// to its lower edge; a door begins at the level line
    bottom: not_negative, needed_where("of a window", "bottom = 36\"", "bottom = 900mm");
    /// between its casings
    width: positive, needed("width = 30\"", "width = 760mm"), usually (Usually::wide([inches(6, 1), inches(240, 1)], [mm(150), mm(6000)]));
    /// from its lower to its upper edge
    height: positive, needed("height = 80\"", "height = 2030mm"), usually (Usually::wide([inches(6, 1), inches(144, 1)], [mm(150), mm(3600)]));
    /// width of the casing round it
    casing: not_negative, optional, usually (Usually::wide([inches(1, 4), inches(12, 1)], [mm(6), mm(300)]));
    /// width of a door's leaf
    leaf: positive, follows("that of the opening"), usually (Usually::wide([inches(12, 1), inches(60, 1)], [mm(300), mm(1500)]));
    /// the edge that the leaf hangs on: left or right, in a return wall near this wall or far from it
    hinge: choice(Hinge), optional;
    /// into the room or out of it
    swing: choice(Swing), word(Swing::In);
    /// it stays; it is closed up; its casing is cut back where the work stands
    decided: choice(OpeningDecided), word(OpeningDecided::Keep);
}

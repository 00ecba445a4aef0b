//! How the work is painted.

use super::{
    COMMON, FILE, KindSpec, Naming, Needed, Optional, Property, PropertySpec, Takes, Usual, Usually, Without,
    plain, read, written,
};
use crate::quantity::Dim;

kind! {
    /// how it is painted
    FINISH: Finish = "finish", Naming::Optional, text: true, within: [FILE];
    /// in their order
    coats: members("coating"), needed("coats = [primer, enamel, enamel]");
    /// what stays in tray and brush
    loss: number(NONE), number((10, 1), "%", COMMON), usually (Usually::wide_in_both([written(1, "%"), written(50, "%")]));
    /// where open faces meet the wall
    caulk: member("caulk"), optional;
    /// in nail holes
    filler: member("filler"), optional;
    /// what breaking the arrises takes
    easing: amount(TIME), follows("the schedule leaves no time"), usually (Usually::wide_in_both([written(1, "min"), written(72, "h")]).called("easing"));
    /// what filling nail holes takes, with its drying
    filling: amount(TIME), follows("the schedule leaves no time"), usually (Usually::wide_in_both([written(1, "min"), written(72, "h")]).called("filling"));
    /// what sanding the bare wood takes, with dusting
    sanding: amount(TIME), follows("the schedule leaves no time"), usually (Usually::wide_in_both([written(1, "min"), written(72, "h")]).called("sanding"));
    /// what caulking takes
    caulking: amount(TIME), follows("the schedule leaves no time"), usually (Usually::wide_in_both([written(1, "min"), written(72, "h")]).called("caulking"));
    /// what sanding between two coats takes
    sanding_between: amount(TIME), follows("the schedule leaves no time"), usually (Usually::wide_in_both([written(1, "min"), written(72, "h")]).called("sanding between coats"));
    /// the first day on which things are to stand on it
    loaded: date, optional;
}

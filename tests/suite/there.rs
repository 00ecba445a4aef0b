//! What is there already: trim that is cut back, a floor covering that is cut out, sheets against dust, old moulding, a panel on a rough
//! ceiling. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::cutting::Effort;
use scantling::pages::place;
use scantling::parts::GlueClass;
use scantling::quantity::Rational;
use serde_json::Value;

const DEN: &str = r#"
room den {
  floor { stand_on = subfloor, covering = 14mm, size = 4200mm x 3600mm }
  ceiling { above = 2400mm }
  wall long {
    lining = 12mm
    reading low { back = 3000mm, front = 3000mm }
    reading middle { back = 3000mm, front = 3000mm }
    reading high { back = 3000mm, front = 3000mm }
    studs { first = 300mm, every = 400mm }
    obstacle skirting { kind = baseboard, height = 90mm, projection = 15mm, decided = remove }
    obstacle rail { kind = chair_rail, left = 1800mm, width = 400mm, bottom = 800mm, height = 50mm, projection = 20mm, decided = remove }
    obstacle vent { kind = wall_register, left = 2300mm, width = 300mm, bottom = 150mm, height = 150mm }
    opening pane { kind = window, left = 2050mm, bottom = 900mm, width = 700mm, height = 1100mm, casing = 60mm, decided = cut_round }
    opening hall { kind = door, side = right, off = 900mm, width = 760mm, height = 2030mm, casing = 60mm }
  }
}
sheet birch {
  size = 2440mm x 1220mm
  thickness = 18mm
  density = 680 kg/m3
  skim = 3mm
}
sheet thin { size = 2440mm x 1220mm, thickness = 6mm, density = 680 kg/m3 }
board ash_board { thickness = 20mm, density = 672 kg/m3 }
moulding cove {
  width = 90mm
  spring = 38 deg
  lengths = [2.2m, 2.6m]
  offcut old { length = 500mm, spoilt = 8mm }
}
nail brad { length = 50mm }
nail pin_nail { length = 40mm }
nail tack { length = 20mm }
screw wall_screw { length = 80mm }
screw seam_screw { length = 30mm }
glue grab { spread = 2 m2/L }
stick lines { low = 80mm, mid = 700mm, high = 1400mm, top = 2250mm }
run books {
  along = den.long
  end right { against = open, gap = 1000mm }
  each unit { stock = birch, shelves = lines, width = rest to 5mm, height = 2350mm, depth = 400mm, cleat { height = 60mm } }
  unit left
  unit right
  facing { stock = ash_board, stile = 44mm, strip = 38mm, top_rail = 82mm }
  crown { stock = cove }
  ceiling_panel { stock = thin, depth = 500mm, glue = grab, nail = tack }
}
join shelf to side with dado { depth = 6mm, nail = brad }
join cleat to wall with butt { screw = wall_screw }
join unit to unit with butt { screw = seam_screw }
join facing to carcass with butt { nail = pin_nail }
saw table { kerf = 3mm }
"#;

fn room(text: &str) -> Value {
    let of = compiled_text(text);
    let leaves = (place("room").unwrap().make)(of.subject(Effort::Quick));
    assert_eq!(leaves.len(), 1);
    leaves[0].json.clone()
}

/// Lengths of a row as they are printed.
fn row<'a>(row: &'a Value, keys: &[&str]) -> Vec<&'a str> {
    keys.iter().map(|key| row[key]["print"].as_str().unwrap_or("-")).collect()
}

#[test]
fn trim_is_cut_at_the_ends_of_the_work_and_returned_where_it_goes_on() {
    // The lap over the seam is (44 - 36) / 2 = 4, so the wall wants 44 - 18 - 4 = 22. (3000 - 22 - 1000) / 2 = 989, up to 990; the
    // wall keeps 20: the work ends at 20 + 2 x 990 = 2000.
    let f = Figures::of_text(DEN);
    f.mm("books.left.width", "990");
    f.mm("books.left.x", "20");
    let page = room(DEN);
    let off = page["taken_off"].as_array().unwrap();
    let keys = ["from", "to", "bottom", "top", "out"];
    // The rail begins in the work.
    assert_eq!(row(&off[0], &keys), ["1800 mm", "2000 mm", "800 mm", "850 mm", "20 mm"]);
    assert_eq!(off[0]["returned"], serde_json::json!(["right"]));
    // The skirting from the corner to the work's end, and on from there.
    assert_eq!(row(&off[1], &keys), ["0 mm", "2000 mm", "0 mm", "90 mm", "15 mm"]);
    assert_eq!(off[1]["returned"], serde_json::json!(["right"]));
    // The casing from 2050 - 60 on, from 900 - 60 up to 2000 + 60.
    assert_eq!(off[2]["done"], "cut back");
    assert_eq!(row(&off[2], &keys), ["1990 mm", "2000 mm", "840 mm", "2060 mm", "-"]);
    assert_eq!(off.len(), 3);
    // A rail that ends with the work has no end to return, one a millimetre longer has.
    for (width, returned) in [("200mm", 0), ("201mm", 1)] {
        let page =
            room(&DEN.replace("left = 1800mm, width = 400mm", &format!("left = 1800mm, width = {width}")));
        assert_eq!(page["taken_off"][0]["returned"].as_array().unwrap().len(), returned, "{width}");
    }
}

#[test]
fn a_covering_is_cut_to_its_own_thickness_along_the_front() {
    let page = room(DEN);
    let cuts = page["floor"].as_array().unwrap();
    assert_eq!(cuts.len(), 1);
    assert_eq!(row(&cuts[0], &["from", "to", "out", "deep"]), ["0 mm", "2000 mm", "400 mm", "14 mm"]);
    assert_eq!(cuts[0]["ends"], serde_json::json!([false, true]));
    // On a plinth that is set back the covering runs under the toe space.
    let plinth = DEN.replace(
        "cleat { height = 60mm } }",
        "cleat { height = 60mm }\n    plinth { height = 80mm, set_back = 50mm } }",
    );
    let page = room(&plinth);
    assert_eq!(row(&page["floor"][0], &["out"]), ["350 mm"]);
    // What stands on the covering leaves it, and then its thickness says nothing.
    let on_it = DEN.replace("stand_on = subfloor", "stand_on = finished");
    assert!(room(&on_it)["floor"].is_null());
    assert!(codes(&compiled_text(&on_it)).contains(&"V070"));
    assert!(!codes(&compiled_text(DEN)).contains(&"V070"));
}

#[test]
fn dust_sheets_lap_over_doorways_and_registers() {
    let page = room(DEN);
    let sheets = page["sheeted"].as_array().unwrap();
    let of =
        |place: usize| ["what", "sheet", "tape"].map(|key| sheets[place][key].as_str().unwrap().to_owned());
    // (760 + 300) x (2030 + 300) = 2.4698 m2, 2 x (1060 + 2330) round it.
    assert_eq!(of(0), ["door `den.long.hall`", "~2.470 m2", "6.78 m"]);
    // (300 + 300) x (150 + 300).
    assert_eq!(of(1), ["wall register `den.long.vent`", "0.27 m2", "2.1 m"]);
    // 4.2 x 3.6, and all round it.
    assert_eq!(of(2), ["the floor", "15.12 m2", "15.6 m"]);
    assert_eq!(sheets.len(), 3);
    // 2.4698 + 0.27 + 15.12 = 17.8598 m2; 6.78 + 2.1 + 15.6 = 24.48 m.
    let f = Figures::of_text(DEN);
    let shopping = f.sheet("shopping");
    let bought = |what: &str| {
        let rows = shopping["rows"].as_array().unwrap();
        let row = rows.iter().find(|row| row["what"] == what);
        row.map(|row| row["count"].as_str().unwrap().to_owned())
    };
    assert_eq!(bought("dust sheets").unwrap(), "~17.860 m2");
    assert_eq!(bought("tape for them").unwrap(), "~24.48 m");
    // Without a size of the floor the page says what it lacks, and nothing is bought by guess.
    let bare_floor = DEN.replace(", size = 4200mm x 3600mm }", " }");
    assert_eq!(room(&bare_floor)["floor_size"], false);
    let f = Figures::of_text(&bare_floor);
    assert!(f.sheet("shopping")["rows"].as_array().unwrap().iter().all(|row| row["what"] != "dust sheets"));
}

/// Sticks of the crown that are bought.
fn sticks(old: &str) -> String {
    let f = Figures::of_text(&DEN.replace("length = 500mm, spoilt = 8mm", old));
    let json = f.sheet("boards");
    let crown = json["groups"].as_array().unwrap().iter().find(|group| group["stock"] == "cove").unwrap();
    let bought = crown["buy"].as_array().unwrap().iter().filter(|stick| stick["on_hand"] == false);
    let said: Vec<String> =
        bought.map(|stick| format!("{} of {}", stick["count"], stick["length"]["print"])).collect();
    said.join(", ")
}

#[test]
fn old_crown_is_cut_before_new_is_bought() {
    let f = Figures::of_text(DEN);
    // Along the front 20 + 1980 and the return 400 + 20; each longer by 90 x sin 38 = 55.41 over its top edge.
    f.mm("books.crown.front_foot", "2000");
    f.mm("books.crown.right_foot", "420");
    // Both take 2530.82 and need a stick of 2600; the front by itself 2055.41, out of 2200. The return is 475.41; with the trim of 12.7
    // and a kerf it takes 491.11 of the old stick.
    let [short, long] = ["1 of \"2200 mm\"", "1 of \"2600 mm\""];
    assert_eq!(sticks("length = 492mm"), short);
    assert_eq!(sticks("length = 491mm"), long);
    assert_eq!(sticks("length = 500mm, spoilt = 8mm"), short);
    assert_eq!(sticks("length = 500mm, spoilt = 9mm"), long);
    assert_eq!(sticks("length = 500mm, count = 1"), short);
    // All of it spoilt, or stated as a sheet is.
    let told = |old: &str| codes(&compiled_text(&DEN.replace("length = 500mm, spoilt = 8mm", old)));
    assert!(told("length = 500mm, spoilt = 500mm").contains(&"V005"));
    assert!(told("length = 500mm, size = 500mm x 90mm").contains(&"V070"));
    assert!(!told("length = 500mm, spoilt = 499mm").contains(&"V005"));
    // What is left of a sheet or board may be spoilt too.
    let sheet = DEN
        .replace("  skim = 3mm\n}", "  skim = 3mm\n  offcut end { size = 700mm x 420mm, spoilt = 700mm }\n}");
    assert!(codes(&compiled_text(&sheet)).contains(&"V005"));
}

#[test]
fn a_ceiling_panel_is_stuck_and_tacked() {
    let f = Figures::of_text(DEN);
    // Over the gap at the wall and the units.
    f.mm("books.ceiling_panel.length", "2000");
    // Along both long edges: (2000 - 2 x 40) / 200 = 9.6, so 10 spaces and 11 tacks.
    f.bought("tack", 22, 24);
    assert_eq!(f.surfaces("books").glue[&GlueClass::CeilingPanel], Rational::from(2000 * 500));
    assert_eq!(f.product("grab"), ["~1.000 m2 of glued faces", "~0.50 L", "a bottle that holds it"]);
    // Nothing of it where nothing is stated.
    let bare = DEN.replace(", glue = grab, nail = tack", "");
    let f = Figures::of_text(&bare);
    assert!(!f.surfaces("books").glue.contains_key(&GlueClass::CeilingPanel));
    assert_eq!(
        f.sheet("hardware")["items"].as_array().unwrap().iter().filter(|item| item["name"] == "tack").count(),
        0
    );
}

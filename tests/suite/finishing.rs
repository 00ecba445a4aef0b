//! Hours of the finish: what stops for the night goes on in the morning; a coat is not begun where it would end too late.

use crate::compiled_text;
use scantling::breakdown::Effort;
use scantling::sheets::sheet;

fn times(finish: &str) -> Vec<String> {
    let compilation = compiled_text(&format!(
        "project \"p\" {{ start = 2026-03-02, day_begins = 8 h, day_ends = 17 h }}\nsheet ply {{ thickness = 18mm }}\n\
         stick s {{ low = 80mm }}\ncarcass a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\n\
         coating base {{ work = 3 h, wait = 4 h }}\ncoating top {{ work = 2 h, wait = 16 h, light_load = 7 days }}\n\
         finish {{ coats = [base, top]{finish} }}\n"
    ));
    assert!(!compilation.has_errors(), "{:?}", compilation.diagnostics);
    let subject = compilation.subject(Effort::Quick);
    let json = (sheet("finish").unwrap().make)(subject).json.value();
    let text = |value: &serde_json::Value| value.as_str().unwrap_or("").to_owned();
    let steps = json["steps"].as_array().unwrap().iter();
    let timed = steps.filter(|step| step["begins"].is_string());
    timed
        .map(|step| format!("{} {} to {}", text(&step["name"]), text(&step["begins"]), text(&step["ends"])))
        .collect()
}

#[test]
fn without_hours_only_coats_are_timed() {
    assert_eq!(
        times(""),
        [
            "coat 2026-03-02 08:00 to 2026-03-02 11:00",
            "coat 2026-03-02 15:00 to 2026-03-02 17:00",
            "light load 2026-03-09 17:00 to 2026-03-09 17:00",
        ]
    );
}

#[test]
fn work_before_the_coats_takes_working_days() {
    // A day has 9 h. Easing 8 to 11, filling to 13; sanding 14 h: 4 that day, 9 the next, 1 on the third; caulking to 10;
    // primer to 13 and its wait to 17, so that sanding between begins on the fourth.
    assert_eq!(
        times(
            ", easing = 3 h, filling = 2 h, sanding = 14 h, caulking = 1 h, caulk = caulk_5mm, sanding_between = 1 h"
        ),
        [
            "ease 2026-03-02 08:00 to 2026-03-02 11:00",
            "fill 2026-03-02 11:00 to 2026-03-02 13:00",
            "sand 2026-03-02 13:00 to 2026-03-04 09:00",
            "caulk 2026-03-04 09:00 to 2026-03-04 10:00",
            "coat 2026-03-04 10:00 to 2026-03-04 13:00",
            "sand between 2026-03-05 08:00 to 2026-03-05 09:00",
            "coat 2026-03-05 09:00 to 2026-03-05 11:00",
            "light load 2026-03-12 11:00 to 2026-03-12 11:00",
        ]
    );
    // Two whole days and no more end with the second day.
    assert_eq!(times(", sanding = 18 h")[0], "sand 2026-03-02 08:00 to 2026-03-03 17:00");
}

//! Bad and very large cutting jobs, through the hidden command `cut` and through the library: a clear answer in bounded time.

use std::fs;
use std::process::Command;

use scantling::cutting::{
    Bar, BarJob, BarPiece, Effort, Job, Part, Plan, Proof, Rules, Sheet, Stages, Trim, plan, plan_bars,
    verify, verify_bars,
};
use serde_json::{Value, json};

/// Runs `cut` on a job of one sheet, 96 x 48, with kerf 1, changed by `change`: exit status, the line printed, the message.
fn cut(change: impl FnOnce(&mut Value)) -> (i32, String, String) {
    let mut instance = json!({
        "format": "cutbench/1", "id": "test", "dim": 2, "kerf": 1, "trim": [0, 0, 0, 0],
        "stock": [{"id": "sheet", "w": 96, "h": 48, "count": null, "cost": 1}],
        "items": [{"id": "shelf", "w": 40, "h": 10, "demand": 2, "rotate": false}],
        "variants": [{"id": "2rip", "stages": 2, "first": "h", "exact": false, "rotate": "given"}],
    });
    change(&mut instance);
    let folder = tempfile::tempdir().unwrap();
    let (file, out) = (folder.path().join("job.json"), folder.path().join("layout.json"));
    fs::write(&file, instance.to_string()).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .arg("cut")
        .arg(&file)
        .args(["--variant", "2rip", "--effort", "quick", "--out"])
        .arg(&out)
        .env("NO_COLOR", "1")
        .output()
        .unwrap();
    let status = output.status.code().unwrap();
    assert_eq!(out.exists(), status == 0, "a layout is written only where there is one");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (status, text(output.stdout), text(output.stderr))
}

#[test]
fn the_command_names_what_is_wrong() {
    type Change = fn(&mut Value);
    let cases: [(Change, &str); 12] = [
        (|j| j["items"][0]["w"] = 97.into(), "`shelf` fits no stock in a direction that its grain allows"),
        (|j| j["items"][0]["h"] = 96.into(), "`shelf` fits no stock in a direction that its grain allows"),
        (|j| j["items"][0]["h"] = 0.into(), "`shelf` has the height 0; it must be larger than zero"),
        (|j| j["items"][0]["w"] = (-3).into(), "`shelf` has the width -3; it must be larger than zero"),
        (|j| j["stock"][0]["w"] = 0.into(), "`sheet` has the width 0; it must be larger than zero"),
        (|j| j["kerf"] = (-1).into(), "the kerf is -1; it cannot be negative"),
        (|j| j["stock"] = json!([]), "there is no stock to cut from"),
        (|j| j["trim"] = json!([48, 48, 0, 0]), "the trim leaves nothing of `sheet`"),
        (|j| j["items"][0]["w"] = 1_000_000_000.into(), "`shelf` is too large: width above 100000000"),
        (|j| j["items"][0]["demand"] = 2_000_000_000.into(), "`shelf` is too large: demand above 1000000000"),
        (
            |j| {
                j["stock"][0]["count"] = 1.into();
                j["items"][0]["demand"] = 9.into();
            },
            "the stock does not suffice: 1 of 9 parts found no place",
        ),
        (
            |j| {
                let twin = j["items"][0].clone();
                j["items"].as_array_mut().unwrap().push(twin);
            },
            "the name `shelf` is used twice",
        ),
    ];
    for (change, message) in cases {
        let (status, out, err) = cut(change);
        assert_eq!((status, out.as_str()), (2, ""), "{message}");
        let unwrapped = err.replace('|', " ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(unwrapped.contains(message), "expected: {message}\nprinted: {err}");
    }
    let (status, out, err) = cut(|j| j["items"][0]["demand"] = (-2).into());
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("invalid value: integer `-2`"), "{err}");
}

#[test]
fn the_command_answers_for_thousands_and_for_a_wide_blade() {
    let read = |(status, out, err): (i32, String, String)| -> Value {
        assert_eq!((status, err.as_str()), (0, ""));
        serde_json::from_str(&out).unwrap()
    };
    // Two along (41 + 41 of 97) and four across (4 x 11 of 49) are 8 on a sheet.
    let line = read(cut(|j| j["items"][0]["demand"] = 1_000_000.into()));
    assert_eq!((&line["sheets"], &line["bound"]), (&125_000.into(), &125_000.into()));
    // With a blade of 16 only 40 + 16 + 40 along, and 10 + 16 + 10 across.
    let line = read(cut(|j| {
        j["kerf"] = 16.into();
        j["items"][0]["demand"] = 5.into();
    }));
    assert_eq!((&line["sheets"], &line["faults"]), (&2.into(), &json!([])));
}

fn shop(parts: Vec<Part>) -> Job {
    let mut sheet = Sheet::new("sheet", 1536, 768);
    sheet.trim = Trim::all(4);
    Job { sheets: vec![sheet], parts, rules: Rules::rip_first(2) }
}

/// Sizes from 60 x 60 to 699 x 299 that repeat only after more than 150 000 parts.
fn mixed(kinds: usize, demand: u64) -> Vec<Part> {
    let size = |i: usize, step: usize, from: i64, span: usize| from + i64::try_from(i * step % span).unwrap();
    (0..kinds)
        .map(|i| Part::new(&format!("p{i}"), size(i, 389, 60, 640), size(i, 101, 60, 239), demand))
        .collect()
}

fn checked(job: &Job, effort: Effort) -> Plan {
    let found = plan(job, effort).expect("every part fits");
    assert_eq!(verify(job, &found), Vec::new());
    assert!(found.bound.cost <= found.cost);
    found
}

/// Area is the bound of more kinds than the program takes; it is not missed by more than one sheet in twenty.
#[test]
fn a_million_parts_are_planned_whatever_their_sizes() {
    for (kinds, demand) in [(16, 62_500), (1_000, 1_000), (20_000, 50)] {
        let found = checked(&shop(mixed(kinds, demand)), Effort::Quick);
        let made: u64 =
            found.patterns.iter().map(|p| p.count * u64::try_from(p.placements().count()).unwrap()).sum();
        assert_eq!(made, 1_000_000);
        assert!(found.cost * 20 <= found.bound.cost * 21, "{} of {}", found.cost, found.bound.cost);
    }
}

#[test]
fn many_kinds_take_limited_stock_and_say_what_is_short() {
    let mut job = shop(mixed(3_000, 1));
    let needed = checked(&job, Effort::Quick).sheets;
    job.sheets[0].count = Some(needed * 5 / 4);
    assert!(checked(&job, Effort::Quick).sheets <= needed * 5 / 4);
    job.sheets[0].count = Some(10);
    let message = plan(&job, Effort::Quick).unwrap_err().to_string();
    let short: u64 = message.split(' ').nth(5).unwrap().parse().unwrap();
    assert_eq!(message, format!("the stock does not suffice: {short} of 3000 parts found no place"));
    assert!(short > 2_000 && short < 3_000, "{short}");
}

/// One pattern, at every effort and in every kind of cutting.
#[test]
fn equal_parts_in_the_thousands_are_one_pattern() {
    for (effort, stages) in
        [(Effort::Quick, Stages::Two), (Effort::Normal, Stages::Two), (Effort::Normal, Stages::Free)]
    {
        let mut job = shop(vec![Part::new("p", 100, 50, 5_880)]);
        job.rules.stages = stages;
        let found = checked(&job, effort);
        // (1528 + 2) / 102 = 15 along, (760 + 2) / 52 = 14 across: 210 on a sheet, 5 880 / 210 = 28.
        assert_eq!((found.sheets, found.bound.cost, found.patterns.len()), (28, 28, 1));
    }
}

#[test]
fn a_million_pieces_of_bars_are_planned() {
    let bar = Bar { id: "bar".into(), length: 2304, count: None, cost: 1, trim: 8 };
    let pieces = (0..2_000_i64)
        .map(|i| BarPiece { id: format!("p{i}"), length: 90 + i * 389 % 1201, demand: 500 })
        .collect();
    let job = BarJob { bars: vec![bar], pieces, kerf: 2 };
    let found = plan_bars(&job, Effort::Quick).unwrap();
    assert_eq!(verify_bars(&job, &found), Vec::new());
    assert!(found.bars * 100 <= u64::try_from(found.bound.cost).unwrap() * 105);
    assert_eq!(found.bound.proof, Proof::Area);
}

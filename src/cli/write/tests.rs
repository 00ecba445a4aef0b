//! What holds after a kill at any moment, with several runs at once, and where a step fails.
#![allow(clippy::disallowed_methods, reason = "a test looks at the disk as it is")]

use super::*;
use crate::cli::{Colour, MessageFormat};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant, SystemTime};

/// Where a child publishes; a run of the tests has no such variable.
const PLACE: &str = "SCANTLING_TEST_PLACE";

/// A file of the user's own, which stays.
const OWN: (&str, &str) = ("notes.txt", "call the joiner");

fn silent() -> Screen {
    // Lines for people are no part of a document.
    Screen::new(MessageFormat::Json, Colour::Never)
}

fn folder() -> (tempfile::TempDir, Utf8PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = Utf8PathBuf::from_path_buf(folder.path().to_owned()).unwrap();
    (folder, path)
}

/// Two sets of twelve files: three are the same in both, two are in one of them only.
fn sets() -> [BTreeMap<String, String>; 2] {
    ["A", "B"].map(|set| {
        let text = |number: usize| {
            format!("{}{}\n", if number < 3 { "both" } else { set }, "x".repeat(number * 200))
        };
        let name =
            |number: usize| if number < 10 { format!("{number}.txt") } else { format!("{number}{set}.svg") };
        (0..12).map(|number| (name(number), text(number))).collect()
    })
}

/// The files that people see in a folder.
fn seen(folder: &Utf8Path) -> BTreeMap<String, String> {
    let entries = folder.read_dir_utf8().unwrap().map(|entry| entry.unwrap());
    let seen = entries.filter(|entry| !entry.file_name().starts_with('.'));
    seen.map(|entry| (entry.file_name().to_owned(), fs::read_to_string(entry.path()).unwrap())).collect()
}

/// What must hold at any moment; whether the set is whole.
fn sound(folder: &Utf8Path, sets: &[BTreeMap<String, String>; 2]) -> bool {
    let mut seen = seen(folder);
    assert_eq!(seen.remove(OWN.0).as_deref(), Some(OWN.1));
    let of = |set: &BTreeMap<String, String>| seen.iter().all(|(name, text)| set.get(name) == Some(text));
    assert!(sets.iter().any(of), "mixed: {:?}", seen.keys());
    let list = List::read(folder).unwrap();
    for (name, text) in &seen {
        assert!(
            list.has(name, &Stands::File(hash(text.as_bytes()))),
            "{name} would be taken for somebody else's"
        );
    }
    let whole = sets.contains(&seen) || (seen.is_empty() && list == List::default());
    assert!(whole || list.unfinished, "not whole, and the list does not say so");
    whole && !list.unfinished
}

/// The child of the next test: it publishes one set after the other until it is killed.
#[test]
#[ignore = "it never ends; the test of kills runs it"]
fn publish_for_ever() {
    let Ok(place) = std::env::var(PLACE) else { return };
    loop {
        for set in sets() {
            publish(place.as_str().into(), &set, false, &mut silent()).unwrap();
        }
    }
}

/// Kills a child at moments that a seed says, from the first file that it makes; gives how many kills came in the midst of a set.
fn kills(count: usize, seed: u64) -> usize {
    let (_keep, place) = folder();
    let (place, sets) = (place.join("out"), sets());
    fs::create_dir(&place).unwrap();
    fs::write(place.join(OWN.0), OWN.1).unwrap();
    let (mut random, mut amidst) = (seed, 0);
    let begun = Instant::now();
    sets.iter().for_each(|set| _ = publish(&place, set, false, &mut silent()).unwrap());
    let lasts = u64::try_from(begun.elapsed().as_micros()).unwrap();
    for round in 0..count {
        // Numerical Recipes' generator; from memory.
        random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223) % (1 << 32);
        let spawned = SystemTime::now();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "cli::write::tests::publish_for_ever", "--ignored"])
            .env(PLACE, &place)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // From the first file that is made on, or from when all are made and begin to take their places.
        let (moment, within) = if round % 2 == 0 { ("", lasts / 2) } else { ("made.whole", lasts / 8) };
        let moment = place.join(STAGED).join(moment);
        while !moment.metadata().and_then(|moment| moment.modified()).is_ok_and(|moment| moment > spawned) {
            assert!(child.try_wait().unwrap().is_none(), "the child ended by itself");
        }
        std::thread::sleep(Duration::from_micros(random % within));
        child.kill().unwrap();
        assert_eq!(child.wait().unwrap().code(), None, "the child ended by itself");
        let whole = sound(&place, &sets);
        amidst += usize::from(!whole);
        if round % 5 == 4 {
            let published = publish(&place, &sets[round % 2], false, &mut silent()).unwrap();
            assert_eq!(published.mended, !whole);
            assert!(published.kept.is_empty());
            assert!(sound(&place, &sets) && !place.join(STAGED).exists());
        }
    }
    amidst
}

#[test]
fn a_kill_at_any_moment_leaves_one_set_and_the_next_run_makes_it_whole() {
    let amidst = kills(200, 1);
    assert!(amidst > 20, "only {amidst} kills came in the midst of a set");
}

/// `cargo test --lib a_thousand_kills -- --ignored`
#[test]
#[ignore = "it takes a minute"]
fn a_thousand_kills_leave_one_set_each() {
    assert!(kills(1000, 2) > 80);
}

#[test]
fn of_sets_that_are_published_at_once_one_is_there_whole() {
    let (_keep, place) = folder();
    fs::write(place.join(OWN.0), OWN.1).unwrap();
    let sets = sets();
    std::thread::scope(|scope| {
        for run in 0..8 {
            let (place, set) = (&place, &sets[run % 2]);
            scope.spawn(move || (0..5).for_each(|_| _ = publish(place, set, false, &mut silent()).unwrap()));
        }
    });
    assert!(sound(&place, &sets) && !place.join(STAGED).exists());
}

#[test]
fn steps_before_one_that_fails_are_undone() {
    let (_keep, place) = folder();
    let at = |name: &str| place.join(name);
    let step = |from: &str, to: &str| Step { from: at(from), to: at(to), path: at(from) };
    fs::write(at("a"), "a").unwrap();
    fs::write(at("b"), "b").unwrap();
    let failed = Steps::default().take([step("a", "gone"), step("b", "a"), step("missing", "b")]);
    assert!(matches!(failed, Err(Failure::Write { path, .. }) if path == at("missing")));
    assert_eq!(
        (fs::read_to_string(at("a")).unwrap(), fs::read_to_string(at("b")).unwrap()),
        ("a".into(), "b".into())
    );
    // What another program took away meanwhile cannot be put back.
    let taken = |step: &Step| {
        if step.path == at("missing") {
            fs::remove_file(at("gone")).unwrap()
        }
    };
    let failed = Steps::default().take([step("a", "gone"), step("missing", "b")].into_iter().inspect(taken));
    assert!(matches!(failed, Err(Failure::Unfinished { path, .. }) if path == at("missing")));
}

#[test]
fn what_cannot_be_published_leaves_the_old_set() {
    let (_keep, place) = folder();
    fs::write(place.join(OWN.0), OWN.1).unwrap();
    let [mut old, mut new] = sets();
    // So long a name can stand there, but not with an ending more, under which the old file steps aside.
    let long = "n".repeat(253);
    old.insert(long.clone(), "old".to_owned());
    new.insert(long.clone(), "new".to_owned());
    publish(&place, &old, false, &mut silent()).unwrap();
    let failed = publish(&place, &new, false, &mut silent());
    assert!(matches!(failed, Err(Failure::Write { path, .. }) if path == place.join(&long)));
    // No system takes so long a name.
    new.remove(&long);
    new.insert("n".repeat(300), "new".to_owned());
    assert!(matches!(publish(&place, &new, false, &mut silent()), Err(Failure::Write { .. })));
    let mut seen = seen(&place);
    seen.remove(OWN.0);
    assert!(seen == old && !place.join(STAGED).exists());
}

#[test]
fn a_list_names_files_in_its_own_folder_only() {
    let (_keep, place) = folder();
    let victim = place.join("victim.txt");
    fs::write(&victim, OWN.1).unwrap();
    let out = place.join("out");
    fs::create_dir(&out).unwrap();
    let hash = hash(OWN.1.as_bytes());
    let names = ["../victim.txt", victim.as_str(), "./../victim.txt", "..", ".", ""];
    let lines: String = names.iter().map(|name| format!("{hash} {name}\n")).collect();
    fs::write(out.join(LIST), format!("{lines}{hash}\n{hash} \0\n")).unwrap();
    let [set, _] = sets();
    let published = publish(&out, &set, false, &mut silent()).unwrap();
    assert!(published.kept.is_empty() && published.removed == 0);
    assert_eq!(fs::read_to_string(&victim).unwrap(), OWN.1);
}

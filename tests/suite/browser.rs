//! The shop book as its reader has it: in a browser, on a phone and beside the saw, and on the paper of the printer. Without the browser,
//! without what reads paper or what judges pages these tests say what they left out.

mod driver;

use crate::command_line::scantling;
use crate::{compiled, root};
use driver::{Browser, Printed, Tools, left_out};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::document::{Block, Drawing, Line, Page, Text, typeset};
use scantling::pages::PLACES;
use scantling::quantity::Paper;
use scantling::render::{Cover, book};
use scantling::why::reasons;
use serde_json::Value;
use std::collections::BTreeMap;

const EXAMPLES: [&str; 6] = ["sewing-room", "alcove-pair", "back-hall", "hall-bench", "pantry", "study"];

fn example(name: &str) -> Compilation {
    compiled(&file(name))
}

fn file(name: &str) -> String {
    format!("examples/{name}/{}.scant", name.replace('-', "_"))
}

fn pages(compilation: &Compilation) -> Vec<Page> {
    let subject = compilation.subject(Effort::Quick);
    PLACES.iter().flat_map(|place| (place.make)(subject)).map(|leaf| leaf.page).collect()
}

fn bound(compilation: &Compilation) -> String {
    let title = compilation.subject(Effort::Quick).headed();
    let paper = compilation.model.project.paper();
    let pages = pages(compilation);
    let reasons = reasons(compilation, pages.iter().flat_map(Page::reasoned));
    book(&Cover { title: &title, key: &title, paper, reasons: &reasons }, &pages)
}

/// What is wider than the screen though it is in no box that is made to be moved about.
const TOO_WIDE: &str = "(() => {
  const wide = document.documentElement.clientWidth, bad = [];
  if (document.documentElement.scrollWidth > wide) bad.push('the page: ' + document.documentElement.scrollWidth + ' of ' + wide);
  for (const own of document.body.querySelectorAll('*')) {
    if (own.closest('dialog') || (own.closest('svg') && own.tagName !== 'svg')) continue;
    const head = own.closest('thead');
    if (head && getComputedStyle(head).position === 'absolute') continue;
    const at = own.getBoundingClientRect();
    if (at.width && (at.right > wide + .5 || at.left < -.5)) bad.push(own.outerHTML.slice(0, 150));
  }
  return bad;
})()";

/// What is smaller on a page for the shop than it is read at arm's length; a head that says what the page belongs to and cautions are not
/// read there.
const TOO_SMALL: &str = "(() => {
  const size = (own) => parseFloat(getComputedStyle(own).fontSize);
  const bad = [];
  for (const own of document.querySelectorAll('.shop *')) {
    if (own.closest('.belongs, footer, svg, .screen, .larger')) continue;
    const says = [...own.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    if (says && size(own) < 14 / .75 - .01) bad.push(size(own) + ' ' + own.outerHTML.slice(0, 150));
  }
  for (const set of document.querySelectorAll('.shop .set')) {
    const step = set.closest('.what');
    if (step.querySelector('*') !== set || [...step.querySelectorAll('span')].some((own) => size(own) * 1.3 > size(set))) {
      bad.push(set.outerHTML);
    }
  }
  return bad;
})()";

/// Everybody can use it (WCAG 2.2, A and AA, and what is good practice besides).
fn judged(browser: &mut Browser, axe: &str, of: &str) {
    browser.run(&format!("window.axe || (() => {{ {axe} }})(); 0"));
    let findings = browser.run(
        "axe.run({ exclude: ['figure svg > *', '#pan svg > *'] }, { resultTypes: ['violations'], runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
         .then((told) => told.violations.map((own) => own.id + ': ' + own.nodes.slice(0, 3).map((node) => node.html.slice(0, 150)).join(' | ')))",
    );
    assert_eq!(findings, Value::Array(Vec::new()), "{of}");
}

#[test]
fn every_page_can_be_read_on_every_screen() {
    let Some(Tools { mut browser, axe, .. }) = Tools::found("books on screens") else { return };
    if axe.is_none() {
        left_out("who can use a book, since axe-core is not there: `.ci/run` fetches it");
    }
    let none = Value::Array(Vec::new());
    for name in EXAMPLES {
        browser.show("book.html", &bound(&example(name)));
        let judged = |browser: &mut Browser, of: &str| {
            if let Some(axe) = &axe {
                judged(browser, axe, &format!("{name} {of}"));
            }
        };
        for (width, dark) in [(320, false), (390, true), (700, false), (1280, true)] {
            browser.screen(width, dark);
            assert_eq!(browser.run(TOO_WIDE), none, "{name} at {width}");
            if width == 1280 {
                judged(&mut browser, "on a large screen, dark");
            }
        }
        // What is opened on demand too: the lines of the ticks, the text of a survey, a drawing.
        browser.run(
            "document.getElementById('take-over').click(); document.querySelector('.make-text')?.click(); 0",
        );
        browser.screen(320, false);
        assert_eq!(browser.run(TOO_WIDE), none, "{name} with its lines");
        judged(&mut browser, "on a small screen, light, with its lines");
        if name == EXAMPLES[0] {
            browser.run("document.querySelector('.larger').click(); 0");
            judged(&mut browser, "with a large drawing");
        }
    }
}

/// A name is a name, wherever it comes to stand.
#[test]
fn names_that_are_programs_do_nothing() {
    let Some(Tools { mut browser, .. }) = Tools::found("names that are programs") else { return };
    let mean = "</style></script><script>hit()</script><img src=x onerror=hit()>\\\" onclick=hit() ";
    let text = format!(
        "project \"{mean}\" {{ marks = 1mm, revision = \"'{mean}\" }}
sheet ply \"{mean}\" {{ size = 2440mm x 1220mm, thickness = 18mm }}
stick s {{ low = 80mm, high = 700mm }}
/// {mean}
carcass c \"{mean}\" {{ stock = ply, width = 800mm, height = 900mm, depth = 300mm, shelves = s }}
join shelf to side with dado {{ depth = 6mm }}
"
    );
    let compilation = crate::compiled_text(&text.replace("\\\"", ""));
    assert!(!compilation.has_errors(), "{:#?}", compilation.diagnostics);
    browser.call(
        "Page.addScriptToEvaluateOnNewDocument",
        serde_json::json!({ "source": "window.hits = 0; window.hit = () => hits++" }),
    );
    browser.show("book.html", &bound(&compilation));
    browser.run("document.querySelectorAll('button').forEach((own) => own.id !== 'clear' && own.id !== 'save' && own.click()); 0");
    assert_eq!(browser.run("[hits, document.scripts.length, document.images.length, document.querySelectorAll('style').length]"), serde_json::json!([0, 1, 0, 1]));
    // And it says them.
    assert!(browser.run("document.title").as_str().unwrap().contains("<script>hit()</script>"));
}

/// What is ticked and typed in is there on the next day, and what was taken over is what `mark` notes.
#[test]
fn ticks_stay_and_reach_the_progress() {
    let Some(Tools { mut browser, .. }) = Tools::found("ticks") else { return };
    let name = "sewing-room";
    browser.show("book.html", &bound(&example(name)));
    let tick = |browser: &mut Browser, marks: &str| {
        let ticked = browser.run(&format!(
            "(() => {{ const box = [...document.querySelectorAll('input[data-step]')].find((box) => (box.dataset.marks ?? '').startsWith({marks:?}));
               box.click(); return box.checked }})()"
        ));
        assert_eq!(ticked, true, "{marks}");
    };
    tick(&mut browser, "sheet 3 of ply cut");
    tick(&mut browser, "sheet 4 of ply cut");
    tick(&mut browser, "sewing.one.side.left grooved");
    browser.reload();
    assert_eq!(browser.run("document.querySelectorAll('input[data-step]:checked').length"), 3);
    let taken =
        browser.run("document.getElementById('take-over').click(); document.getElementById('lines').value");
    let taken = taken.as_str().unwrap();
    assert!(
        taken.starts_with("sheet 3 of ply cut\nsheet 4 of ply cut\nsewing.one.side.left grooved\n"),
        "{taken}"
    );
    // The program reads these lines.
    let (keep, home) = crate::command_line::folder();
    let project = format!("{home}/sewing_room.scant");
    std::fs::copy(root().join(file(name)), &project).unwrap();
    std::fs::write(format!("{home}/ticks.txt"), format!("{taken}\n")).unwrap();
    let (status, out, err) = scantling(&["mark", "--from", &format!("{home}/ticks.txt"), "--file", &project]);
    assert_eq!(status, 0, "{err}");
    assert!(out.contains("cut") && out.contains("grooved"), "{out}");
    let progress = std::fs::read_to_string(format!("{home}/sewing_room.progress.scant")).unwrap();
    assert!(
        progress.contains("sewing.one.side.left") && progress.contains("sewing.one.side.right"),
        "{progress}"
    );
    drop(keep);
    // Another revision has ticks of its own; all are cleared only when that is meant.
    let revised = bound(&example(name)).replace("revision A", "revision B");
    browser.show("book.html", &revised);
    assert_eq!(browser.run("document.querySelectorAll('input[data-step]:checked').length"), 0);
    browser.show("book.html", &bound(&example(name)));
    browser.run("window.confirm = () => false; document.getElementById('clear').click()");
    assert_eq!(browser.run("document.querySelectorAll('input[data-step]:checked').length"), 3);
    browser.run("window.confirm = () => true; document.getElementById('clear').click()");
    browser.reload();
    assert_eq!(browser.run("document.querySelectorAll('input[data-step]:checked').length"), 0);
}

/// What is filled in stays, a second reading that differs is told, and the text that is made of it is the one of the form.
#[test]
fn a_survey_is_filled_in_on_the_phone() {
    let Some(Tools { mut browser, .. }) = Tools::found("forms") else { return };
    let bare = crate::compiled_text("project \"New\" { marks = 1/32\" }\n");
    browser.screen(390, false);
    browser.show("book.html", &bound(&bare));
    let filled = [
        ("low_back", "130 1/4"),
        ("year_built", "1968"),
        ("thing_2_kind", "outlet"),
        ("thing_2_left", "14"),
        ("thing_2_height", "4 1/2 in"),
        ("door_1_width", "30"),
    ];
    let write = |browser: &mut Browser, find: &str, value: &str| {
        browser.run(&format!(
            "{{ const own = document.querySelector({find:?}); own.value = {value:?}; own.dispatchEvent(new Event('input')); own.dispatchEvent(new Event('change')); }}"
        ));
    };
    for (name, value) in filled {
        write(&mut browser, &format!("[name={name}]"), value);
    }
    let differs = "document.querySelector('[data-twice=low_back]').nextElementSibling.checkVisibility()";
    assert_eq!(browser.run(differs), false);
    write(&mut browser, "[data-twice=low_back]", "130 1/8");
    assert_eq!(browser.run(differs), true);
    browser.reload();
    for (name, value) in filled {
        assert_eq!(browser.run(&format!("document.querySelector('[name={name}]').value")), value, "{name}");
    }
    assert_eq!(browser.run(differs), true);
    browser.run("document.querySelector('.make-text').click()");
    let made = browser.run("document.querySelector('.form textarea').value");
    let pages = pages(&bare);
    let form = pages.iter().flat_map(|page| &page.blocks).find_map(|block| match block {
        Block::Form(form) => Some(form),
        _ => None,
    });
    let expected =
        form.unwrap().filled(|name| filled.iter().find(|(own, _)| *own == name).map(|(_, value)| *value));
    assert!(
        expected.contains("obstacle thing_2 { kind = outlet, left = 14\", height = 4 1/2 in }"),
        "{expected}"
    );
    assert_eq!(made, expected);
}

/// A figure opens where it comes from, in the words of `why`, and closes by a key.
#[test]
fn figures_open_where_they_come_from() {
    let Some(Tools { mut browser, .. }) = Tools::found("reasons") else { return };
    let sewing = example("sewing-room");
    browser.screen(390, false);
    browser.show("book.html", &bound(&sewing));
    let open = "[...document.querySelectorAll('[popover]')].filter((own) => own.matches(':popover-open')).map((own) => own.textContent)";
    assert_eq!(browser.run(open), serde_json::json!([]));
    browser.run("[...document.querySelectorAll('button.why')].find((own) => own.textContent === '2 5\u{2044}8\u{2033}').click()");
    let said = browser.run(open);
    let expected = reasons(&sewing, ["router.spacer_1"])["router.spacer_1"].clone();
    assert_eq!(said, serde_json::json!([typeset(expected.trim_end())]));
    browser.run("document.querySelector('[popover]:popover-open').hidePopover()");
    assert_eq!(browser.run(open), serde_json::json!([]));
    // Every button opens something.
    let lost = "[...document.querySelectorAll('button.why')].filter((own) => !document.getElementById(own.getAttribute('popovertarget'))).length";
    assert_eq!(browser.run(lost), 0);
}

/// Whoever has no mouse reaches all that can be done, in order, and sees where they are.
#[test]
fn a_keyboard_is_enough() {
    let Some(Tools { mut browser, .. }) = Tools::found("books by keyboard") else { return };
    browser.screen(1280, false);
    browser.show("book.html", &bound(&example("hall-bench")));
    let all = browser.run(
        "(() => { const all = [...document.querySelectorAll('a[href], button, input, textarea, summary')].filter((own) => own.checkVisibility());
           all.forEach((own, place) => own.dataset.place = place); return all.length })()",
    );
    let all = all.as_u64().unwrap();
    assert!(all > 60, "{all}");
    for place in 0..all {
        browser.key("Tab", 9, "");
        // It is moved into sight before the next picture of the screen.
        let at = browser.run(
            "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => {
               const own = document.activeElement, look = getComputedStyle(own), { top, bottom } = own.getBoundingClientRect();
               const outline = look.outlineStyle !== 'none' && parseFloat(look.outlineWidth) >= 2;
               done({ place: Number(own.dataset.place), outline, seen: top >= 0 && bottom <= innerHeight, own: own.outerHTML.slice(0, 100), top, bottom });
             })))",
        );
        let is = (at["place"].as_u64(), at["outline"].as_bool(), at["seen"].as_bool());
        assert_eq!(is, (Some(place), Some(true), Some(true)), "{at}");
    }
    browser.run("document.querySelector('input[data-step]').focus(); 0");
    browser.key(" ", 32, " ");
    assert_eq!(browser.run("document.activeElement.checked"), true);
    browser.run("document.querySelector('.larger').focus(); 0");
    browser.key("Enter", 13, "\r");
    assert_eq!(
        browser.run("document.getElementById('large').open && !!document.querySelector('#pan svg')"),
        true
    );
    browser.key("Escape", 27, "");
    assert_eq!(
        browser.run(
            "!document.getElementById('large').open && document.activeElement.className.includes('larger')"
        ),
        true
    );
}

/// Puts a small word at the beginning and at the end of all that stays together, and into the corners of drawings, so that they are found
/// on paper.
const MARKED: &str = "(() => {
  const kinds = [], all = document.querySelectorAll('h2, h3, figcaption, article p, li, tr, figure svg');
  for (const own of all) {
    if (!own.closest('article') || own.closest('.screen, [hidden]') || getComputedStyle(own).display === 'none') continue;
    if (own.closest('figure') && getComputedStyle(own.closest('figure')).display === 'none') continue;
    const name = 'zq' + kinds.length;
    if (own.tagName === 'svg') {
      // From a corner 2 mm within the one to that within the other.
      const [, , wide, high] = own.getAttribute('viewBox').split(' ').map(Number);
      for (const [x, y, end] of [[2, 2, 'a'], [wide - 2, high - 2, 'z']]) {
        const word = document.createElementNS('http://www.w3.org/2000/svg', 'text');
        word.setAttribute('x', x); word.setAttribute('y', y); word.setAttribute('font-size', '.4');
        if (end === 'z') word.setAttribute('text-anchor', 'end');
        word.textContent = name + end;
        own.append(word);
      }
      kinds.push({ kind: 'svg', wide: wide - 4, high: high - 4 });
      continue;
    }
    const head = own.closest('thead');
    own.style.position = 'relative';
    for (const [end, place] of [['a', 'left:0;top:0'], ['z', 'right:2px;bottom:2px']]) {
      const word = document.createElement('span');
      word.style.cssText = 'font:1px monospace;line-height:1px;white-space:nowrap;' + (head ? '' : 'position:absolute;' + place);
      word.textContent = ' ' + name + end + ' ';
      (own.tagName === 'TR' ? (end === 'a' ? own.firstElementChild : own.lastElementChild) : own).append(word);
      if (own.tagName === 'TR' && !head) (end === 'a' ? own.firstElementChild : own.lastElementChild).style.position = 'relative';
    }
    kinds.push({ kind: head ? 'thead' : own.tagName.toLowerCase(), high: own.getBoundingClientRect().height / 96 * 25.4, table: own.closest('table') ? [...document.querySelectorAll('table')].indexOf(own.closest('table')) : -1 });
  }
  return kinds;
})()";

/// The number of a word that was put in and its end: the papers that it stands on, and its place there.
type Found = BTreeMap<(usize, char), Vec<(usize, [f64; 4])>>;

/// Where the words that were put in stand: on which paper, and at which place there.
fn found(printed: &Printed) -> Found {
    let name = fancy_regex::Regex::new("zq([0-9]+)([az])").unwrap();
    let mut found = Found::new();
    for (leaf, paper) in printed.leaves.iter().enumerate() {
        for word in &paper.words {
            for own in name.captures_iter(word.says.as_str()) {
                let own = own.unwrap();
                let key = (own[1].parse().unwrap(), own[2].chars().next().unwrap());
                found.entry(key).or_default().push((leaf, word.at));
            }
        }
    }
    found
}

/// Points of 1/72 in to a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// What holds of a book on paper, whatever stands in it.
fn printed(browser: &mut Browser, paper: Paper, pages: usize, of: &str) {
    let none = Value::Array(Vec::new());
    browser.media("print", false);
    // As wide as what is printed on: nothing is wider, so that nothing is made smaller in silence.
    let [wide, high] = Paper::within(paper.upright());
    let points = (wide / 25.4 * 96.0).floor() as u32;
    let size = serde_json::json!({ "width": points, "height": 900, "deviceScaleFactor": 1, "mobile": false });
    browser.call("Emulation.setDeviceMetricsOverride", size);
    let count = |browser: &mut Browser, of: &str| {
        let count = browser.run(&format!("document.querySelectorAll('{of}').length"));
        usize::try_from(count.as_u64().unwrap()).unwrap()
    };
    let (lying, full) = (count(browser, ".lying, .full-lying"), count(browser, ".full, .full-lying"));
    let alone =
        "document.querySelectorAll('.lying, .full, .full-lying').forEach((own) => own.style.display =";
    browser.run(&format!("{alone} 'none')"));
    assert_eq!(browser.run(TOO_WIDE), none, "{of}");
    assert_eq!(browser.run(TOO_SMALL), none, "{of}");
    browser.run(&format!("{alone} '')"));
    let plain = browser.print();
    let kinds = browser.run(MARKED);
    let marked = browser.print();
    assert_eq!(plain.leaves.len(), marked.leaves.len(), "{of}: the words that were put in take no room");
    // Every paper has the size, says which of all it is, and of which page; every page begins on a paper of its own.
    let (mut lie, mut on, mut without) = (0, 0, 0);
    let all = plain.leaves.len();
    for (number, leaf) in plain.leaves.iter().enumerate() {
        let size = leaf.size.map(|side| side / POINTS);
        let near = |other: [f64; 2]| size.iter().zip(other).all(|(a, b)| (a - b).abs() < 0.3);
        assert!(near(paper.upright()) || near(paper.lying()), "{of}: {size:?}");
        lie += usize::from(near(paper.lying()));
        let text = leaf.text();
        let begins = format!("page {} of {pages}, signs ", on + 1);
        if !text.contains(&format!("paper {} of {all}", number + 1)) {
            // A drawing that is the whole paper has a head of its own.
            without += 1;
        } else if text.matches(&begins).count() == 2 {
            // Its head and its foot say it.
            on += 1;
        } else {
            assert!(on == 0 || text.contains(&format!("page {on} of {pages}, signs ")), "{of}: {text}");
        }
        // Nothing is beyond the margins, half a millimetre for what letters reach over; up and down the middle of a word counts.
        let [left, right] = [7.5, 25.4 * leaf.size[0] / 72.0 - 7.5].map(|at| at * POINTS);
        for word in &leaf.words {
            let middle = (word.at[1] + word.at[3]) / 2.0;
            let inside = word.at[0] >= left && word.at[2] <= right;
            let inside = inside && middle >= 8.0 * POINTS && middle <= leaf.size[1] - 4.0 * POINTS;
            assert!(inside, "{of}: {word:?} on paper {} of {:?}", number + 1, leaf.size);
        }
    }
    assert_eq!(on, pages, "{of}");
    assert_eq!((lie, without), (lying, full), "{of}");
    kept_together(&marked, &kinds, high, of);
}

/// No row is split, no head stands alone, heads of tables are repeated, drawings have their size.
fn kept_together(marked: &Printed, kinds: &Value, least: f64, of: &str) {
    let found = found(marked);
    let at = |place: usize, end: char| found.get(&(place, end)).map(Vec::as_slice).unwrap_or_default();
    let kinds = kinds.as_array().unwrap();
    let mut rows: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    let mut heads: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for (place, own) in kinds.iter().enumerate() {
        let kind = own["kind"].as_str().unwrap();
        if kind == "thead" {
            heads.insert(
                own["table"].as_i64().unwrap(),
                at(place, 'a').iter().map(|(leaf, _)| *leaf).collect(),
            );
            continue;
        }
        let ([(begins, from)], [(ends, to)]) = (at(place, 'a'), at(place, 'z')) else {
            panic!("{of}: {own} {place} is not whole on paper: {:?} {:?}", at(place, 'a'), at(place, 'z'));
        };
        // Only what is higher than a paper may go on.
        if kind != "p" && (kind == "svg" || own["high"].as_f64().unwrap() < least) {
            assert_eq!(begins, ends, "{of}: {own} {place} is split");
        }
        match kind {
            "tr" => rows.entry(own["table"].as_i64().unwrap()).or_default().push(*begins),
            "h2" | "h3" | "figcaption" => {
                // Behind the head of a table its first row.
                let next = (place + 1..kinds.len()).find(|next| kinds[*next]["kind"] != "thead");
                if let Some((leaf, _)) = next.and_then(|next| at(next, 'a').first()) {
                    assert_eq!(leaf, begins, "{of}: {own} {place} stands alone");
                }
            }
            "svg" => {
                // The one begins where the other ends, each in a height of its own of less than a millimetre.
                let across = (to[2] - from[0]) / POINTS;
                let down = (to[3] - from[3]) / POINTS;
                for (is, wanted) in [(across, &own["wide"]), (down, &own["high"])] {
                    let wanted = wanted.as_f64().unwrap();
                    assert!((is / wanted - 1.0).abs() < 0.001, "{of}: {is} mm of {wanted}");
                }
            }
            _ => {}
        }
    }
    for (table, rows) in rows {
        let mut leaves = rows.clone();
        leaves.dedup();
        for leaf in leaves {
            assert!(heads[&table].contains(&leaf), "{of}: table {table} has no head on paper {}", leaf + 1);
        }
    }
}

/// The tools, where there is what reads paper.
fn printing(what: &str) -> Option<Tools> {
    let tools = Tools::found(what)?;
    if !tools.paper {
        left_out(&format!("{what}, since `pdfinfo` and `pdftotext` (poppler) are not installed"));
        return None;
    }
    Some(tools)
}

#[test]
fn every_page_is_whole_on_paper() {
    let Some(Tools { mut browser, .. }) = printing("books on paper") else { return };
    for name in EXAMPLES {
        let mut compilation = example(name);
        for paper in [Paper::Letter, Paper::A4] {
            compilation.model.project.paper = Some(paper);
            browser.show("book.html", &bound(&compilation));
            printed(&mut browser, paper, pages(&compilation).len(), &format!("{name} on {paper:?}"));
        }
    }
}

/// Projects as they are not in the examples: nothing stands in a run, many units with long names, one shelf, many shelves.
fn odd() -> [(&'static str, String); 4] {
    let stock = "sheet ply { size = 2440mm x 1220mm, thickness = 18mm, skim = 3mm }\nsaw table { kerf = 3mm }\n\
        router { base = 80mm, bit = 12mm }\nperson { count = 1, joint = 40 s }\nglue white { open = 5 min }\n\
        join shelf to side with dado { depth = 6mm, glue = white }\nproject \"Odd\" { marks = 0.5mm, revision = \"A\" }\n";
    let stick = |count: usize, apart: usize| {
        let marks: Vec<String> =
            (0..count).map(|number| format!("m{number} = {}mm", 80 + number * apart)).collect();
        format!("stick s {{ {} }}\n", marks.join("\n"))
    };
    let case = |name: &str, high: usize| {
        format!(
            "carcass {name} {{ stock = ply, width = 800mm, height = {high}mm, depth = 300mm, shelves = s }}\n"
        )
    };
    let long = |number: usize| {
        format!("{}_{number:02}", "a_shelf_for_the_things_that_nobody_has_a_name_for_and_all_keep")
    };
    let units: String = (0..40).map(|number| format!("  unit {}\n", long(number))).collect();
    let wall = "room r {\n  floor { at = [0mm, 30m], below = [0mm, 5mm] }\n  wall w { right = open, reading low { height = 0mm, back = 30m }\n\
        studs { first = 200mm, every = 400mm } }\n}\n";
    let run = format!(
        "{wall}run {} {{\n  along = r.w\n  each unit {{ stock = ply, width = 700mm, height = 900mm, depth = 300mm, shelves = s }}\n{units}}}\n",
        long(99)
    );
    [
        ("no run", format!("{stock}{}{}{}", stick(3, 300), case("one", 900), case("two", 900))),
        ("40 units with names of 65 letters", format!("{stock}{}{run}", stick(3, 300))),
        ("one shelf", format!("{stock}{}{}", stick(1, 0), case("one", 300))),
        ("60 shelves", format!("{stock}{}{}", stick(60, 39), case("one", 2420))),
    ]
}

#[test]
fn odd_projects_have_pages_that_can_be_read() {
    let Some(Tools { mut browser, paper, .. }) = Tools::found("odd projects") else { return };
    for (name, text) in odd() {
        let mut compilation = crate::compiled_text(&text);
        assert!(!compilation.has_errors(), "{name}: {:#?}", compilation.diagnostics);
        browser.show("book.html", &bound(&compilation));
        for width in [320, 1280] {
            browser.screen(width, true);
            assert_eq!(browser.run(TOO_WIDE), Value::Array(Vec::new()), "{name} at {width}");
        }
        if paper {
            compilation.model.project.paper = Some(Paper::Letter);
            browser.show("book.html", &bound(&compilation));
            printed(&mut browser, Paper::Letter, pages(&compilation).len(), name);
        }
    }
}

/// These tests see what they look for: a row that is split, a head alone, a table that goes on without its head, a drawing that was made
/// smaller, a word beyond the margins.
#[test]
fn what_is_wrong_on_paper_is_seen() {
    let Some(Tools { mut browser, .. }) = printing("what is wrong on paper") else { return };
    // Rows so high that papers end amid them, tables so long that they go on.
    let high = "@media print { .steps li { min-height: 70mm } td { height: 30mm } }</style>";
    let sound = bound(&example("hall-bench")).replace("</style>", high);
    let pages = pages(&example("hall-bench")).len();
    let mut fails = |from: &str, to: &str| {
        assert!(sound.contains(from), "{from}");
        browser.show("book.html", &sound.replace(from, to));
        let look = std::panic::AssertUnwindSafe(|| printed(&mut browser, Paper::A4, pages, "wrong"));
        std::panic::catch_unwind(look).is_err()
    };
    assert!(!fails("break-inside: avoid", "break-inside: avoid"));
    for (from, to) in [
        ("break-inside: avoid", "break-inside: auto"),
        ("h2, h3, figcaption, .caution { break-after: avoid }", ""),
        ("thead { display: table-header-group }", "thead { display: table-row-group }"),
        ("figure svg { width: auto; max-width: 100%;", "figure svg { width: auto; max-width: 60mm;"),
        ("</main>", "<p style=\"width: 120%\">beyond</p></main>"),
    ] {
        assert!(fails(from, to), "{from} -> {to}");
    }
}

/// Rules of 100 mm and 4 in between words and on a paper of their own are as long on paper, at 100 %.
#[test]
fn a_rule_is_as_long_on_paper_as_it_says() {
    let Some(Tools { mut browser, .. }) = printing("rules on paper") else { return };
    for paper in [Paper::Letter, Paper::A4] {
        let rule = |size: [f64; 2], name: &str| {
            let mut drawing = Drawing::new(name, name, size);
            for (long, down) in [(100.0, 40.0), (101.6, 60.0)] {
                drawing.line(Line::Outline, [[30.0, down], [30.0 + long, down]]);
                for (end, says) in [(0.0, "begins"), (long, "ends")] {
                    drawing.text(Text::new(format!("I{says}{long}"), [30.0 + end, down - 2.0], 2.5));
                }
            }
            drawing
        };
        let mut page = pages(&example("hall-bench")).remove(0);
        page.blocks = vec![
            Block::Drawing(Box::new(rule([150.0, 80.0], "between words"))),
            Block::TrueScale(vec![
                rule(paper.upright(), "a paper"),
                rule(paper.lying(), "a paper that lies"),
            ]),
        ];
        browser.show(
            "book.html",
            &book(&Cover { title: "Rule", key: "rule", paper, reasons: &BTreeMap::new() }, &[page]),
        );
        let printed = browser.print();
        let mut measured = 0;
        for leaf in &printed.leaves {
            let at = |says: &str| leaf.words.iter().find(|word| word.says == says).map(|word| word.at[0]);
            for long in ["100", "101.6"] {
                if let (Some(begins), Some(ends)) =
                    (at(&format!("Ibegins{long}")), at(&format!("Iends{long}")))
                {
                    let wanted: f64 = long.parse().unwrap();
                    let is = (ends - begins) / POINTS;
                    assert!((is / wanted - 1.0).abs() < 0.001, "{paper:?}: {is} mm of {wanted}");
                    measured += 1;
                }
            }
        }
        assert_eq!(measured, 6, "{:?}", printed.leaves.iter().map(|leaf| leaf.text()).collect::<Vec<_>>());
        // The contents, the page, a paper for each of the others.
        assert_eq!(printed.leaves.len(), 4);
        self::printed(&mut browser, paper, 1, "rules");
    }
}

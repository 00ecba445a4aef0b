//! A browser without a window, driven over a pipe by its own protocol (the Chrome DevTools Protocol, one message of JSON after the other,
//! each ended by a zero), and what reads paper back.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use camino::{Utf8Path, Utf8PathBuf};
use fancy_regex::Regex;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// A program on the path.
fn installed(name: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|folder| folder.join(name).is_file())
}

/// The script by which pages are judged for people who see, hear or move otherwise; `.ci/run` puts it there.
fn axe() -> Option<String> {
    let built = Utf8Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap();
    std::fs::read_to_string(built.join("axe/node_modules/axe-core/axe.min.js")).ok()
}

/// Says what a test does not look at, also where nobody asks what tests print.
pub(super) fn left_out(what: &str) {
    let _ = writeln!(std::io::stderr(), "left out: {what}");
}

/// What a test needs that is there; says what is not.
pub(super) struct Tools {
    pub(super) browser: Browser,
    pub(super) axe: Option<String>,
    pub(super) paper: bool,
}

impl Tools {
    /// `None` without a browser.
    pub(super) fn found(what: &str) -> Option<Self> {
        let program = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_owned());
        if !installed(&program) && !Utf8Path::new(&program).is_file() {
            left_out(&format!("{what}, since `chromium` is not installed"));
            return None;
        }
        let paper = ["pdfinfo", "pdftotext"].into_iter().all(installed);
        Some(Self { browser: Browser::start(&program), axe: axe(), paper })
    }
}

/// A running browser with one page.
pub(super) struct Browser {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    session: String,
    number: u64,
    /// What happened while an answer was waited for.
    events: Vec<Value>,
    /// Where it keeps what it keeps, and the files that it is shown.
    home: tempfile::TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let close = json!({ "id": 0, "method": "Browser.close" });
        let _ = write!(self.input, "{close}\0").and_then(|()| self.input.flush());
        let _ = self.child.wait();
    }
}

impl Browser {
    fn start(program: &str) -> Self {
        let home = tempfile::tempdir().unwrap();
        // The browser reads from its third and writes to its fourth file; nothing it says elsewhere is of use.
        let mut child = Command::new("sh")
            .args(["-c", "exec \"$@\" 3<&0 4>&1 </dev/null >/dev/null 2>&1", "sh", program])
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--hide-scrollbars",
            ])
            .args(["--no-first-run", "--disable-background-networking", "--remote-debugging-pipe"])
            .arg(format!("--user-data-dir={}", home.path().join("profile").display()))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (input, output) = (child.stdin.take().unwrap(), BufReader::new(child.stdout.take().unwrap()));
        let (session, number, events) = (String::new(), 0, Vec::new());
        let mut browser = Self { child, input, output, session, number, events, home };
        let target = browser.call("Target.createTarget", json!({ "url": "about:blank" }));
        let attach = json!({ "targetId": target["targetId"], "flatten": true });
        browser.session =
            browser.call("Target.attachToTarget", attach)["sessionId"].as_str().unwrap().to_owned();
        browser.call("Page.enable", json!({}));
        browser
    }

    fn message(&mut self) -> Value {
        let mut bytes = Vec::new();
        self.output.read_until(0, &mut bytes).unwrap();
        assert_eq!(bytes.pop(), Some(0), "the browser has ended");
        serde_json::from_slice(&bytes).unwrap()
    }

    /// Asks for something and waits for the answer.
    pub(super) fn call(&mut self, method: &str, params: Value) -> Value {
        self.number += 1;
        let mut message = json!({ "id": self.number, "method": method, "params": params });
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        write!(self.input, "{message}\0").unwrap();
        self.input.flush().unwrap();
        loop {
            let mut answer = self.message();
            if answer["id"] == json!(self.number) {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].take();
            }
            self.events.push(answer);
        }
    }

    /// Shows a text as a file of that name, and waits until it is there.
    pub(super) fn show(&mut self, name: &str, text: &str) {
        let file = self.home.path().join(name);
        std::fs::write(&file, text).unwrap();
        self.go("Page.navigate", json!({ "url": format!("file://{}", file.display()) }));
    }

    pub(super) fn reload(&mut self) {
        self.go("Page.reload", json!({}));
    }

    fn go(&mut self, method: &str, params: Value) {
        self.events.clear();
        self.call(method, params);
        let is_there = |event: &Value| event["method"] == "Page.loadEventFired";
        while !self.events.iter().any(is_there) {
            let event = self.message();
            self.events.push(event);
        }
    }

    /// What a script gives.
    pub(super) fn run(&mut self, script: &str) -> Value {
        let params = json!({ "expression": script, "awaitPromise": true, "returnByValue": true });
        let mut answer = self.call("Runtime.evaluate", params);
        assert!(answer["exceptionDetails"].is_null(), "{script}: {}", answer["exceptionDetails"]);
        answer["result"]["value"].take()
    }

    /// A screen so many points wide.
    pub(super) fn screen(&mut self, width: u32, dark: bool) {
        let size = json!({ "width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.call("Emulation.setDeviceMetricsOverride", size);
        self.media("screen", dark);
    }

    pub(super) fn media(&mut self, media: &str, dark: bool) {
        let scheme = if dark { "dark" } else { "light" };
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.call("Emulation.setEmulatedMedia", json!({ "media": media, "features": features }));
    }

    pub(super) fn key(&mut self, key: &str, code: u32, text: &str) {
        for kind in ["keyDown", "keyUp"] {
            let mut params = json!({ "type": kind, "key": key, "windowsVirtualKeyCode": code });
            if kind == "keyDown" && !text.is_empty() {
                params["text"] = json!(text);
            }
            self.call("Input.dispatchKeyEvent", params);
        }
    }

    /// What stands on the paper of the printer.
    pub(super) fn print(&mut self) -> Printed {
        let params = json!({ "preferCSSPageSize": true, "printBackground": false });
        let data = self.call("Page.printToPDF", params)["data"].take();
        let file = self.home.path().join("printed.pdf");
        std::fs::write(&file, STANDARD.decode(data.as_str().unwrap()).unwrap()).unwrap();
        Printed::read(&file.try_into().unwrap())
    }
}

/// A word on paper: left, upper, right and lower edge in points of 1/72 in.
#[derive(Debug)]
pub(super) struct Word {
    pub(super) says: String,
    pub(super) at: [f64; 4],
}

/// A page of paper, its size in points.
#[derive(Debug)]
pub(super) struct Leaf {
    pub(super) size: [f64; 2],
    pub(super) words: Vec<Word>,
}

impl Leaf {
    /// All of its words.
    pub(super) fn text(&self) -> String {
        self.words.iter().map(|word| word.says.as_str()).collect::<Vec<_>>().join(" ")
    }
}

/// What was printed.
#[derive(Debug)]
pub(super) struct Printed {
    pub(super) leaves: Vec<Leaf>,
}

impl Printed {
    fn read(file: &Utf8PathBuf) -> Self {
        let told = |program: &str, arguments: &[&str]| {
            let output = Command::new(program).args(arguments).output().unwrap();
            assert!(output.status.success(), "{program} {arguments:?}");
            String::from_utf8(output.stdout).unwrap()
        };
        let text = told("pdftotext", &["-bbox", file.as_str(), "-"]);
        let number = |line: &str, name: &str| -> f64 {
            let (_, rest) = line.split_once(&format!("{name}=\"")).unwrap();
            rest.split('"').next().unwrap().parse().unwrap()
        };
        let word = Regex::new(">(.*)</word>").unwrap();
        let mut leaves: Vec<Leaf> = Vec::new();
        for line in text.lines() {
            if line.contains("<page ") {
                let size = ["width", "height"].map(|name| number(line, name));
                leaves.push(Leaf { size, words: Vec::new() });
            } else if let Some(says) = word.captures(line).unwrap() {
                let at = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(line, name));
                leaves.last_mut().unwrap().words.push(Word { says: says[1].to_owned(), at });
            }
        }
        let counted = told("pdfinfo", &[file.as_str()]);
        let counted = counted.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
        assert_eq!(counted.trim(), leaves.len().to_string());
        Self { leaves }
    }
}

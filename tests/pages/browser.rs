//! A headless Chromium, spoken to over its debugging port: opens pages, notes what they ask for, measures, prints.

use serde_json::{Value, json};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tungstenite::{Message, WebSocket};

/// Longest wait for an answer.
const PATIENCE: Duration = Duration::from_secs(60);
/// Set to `required`, a missing browser fails the tests instead of skipping them.
const WISH: &str = "OVERWINTER_BROWSER";

/// A running browser with one page open.
pub(crate) struct Browser {
    child: Child,
    socket: WebSocket<TcpStream>,
    next: u64,
    events: Vec<Value>,
    folder: PathBuf,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// Whether a missing browser is a fault.
pub(crate) fn required() -> bool {
    std::env::var(WISH).is_ok_and(|wish| wish == "required")
}

/// Said past the test runner, which keeps what passing tests print to itself.
pub(crate) fn skipped(what: &str) {
    let _ = writeln!(std::io::stderr(), "SKIPPED: {what}");
}

fn program() -> Option<PathBuf> {
    if let Some(given) = std::env::var_os("CHROMIUM") {
        return Some(PathBuf::from(given));
    }
    let names = ["chromium", "chromium-browser", "google-chrome"];
    let path = std::env::var_os("PATH")?;
    let mut folders = std::env::split_paths(&path);
    folders.find_map(|folder| names.iter().map(|name| folder.join(name)).find(|file| file.is_file()))
}

impl Browser {
    /// Starts one; `None`: there is none here, and that was said.
    pub(crate) fn start(name: &str) -> Option<Self> {
        let Some(program) = program() else {
            assert!(!required(), "no Chromium was found; install the Debian package `chromium` or set CHROMIUM");
            skipped("the tests in a browser: no Chromium here (Debian package `chromium`, or set CHROMIUM)");
            return None;
        };
        let folder = std::env::temp_dir().join(format!("overwinter-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let mut child = Command::new(program)
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--hide-scrollbars",
            ])
            .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
            .args(["--disable-dev-shm-usage", "--remote-debugging-port=0"])
            .arg(format!("--user-data-dir={}", folder.join("profile").display()))
            .arg("about:blank")
            .stderr(Stdio::piped())
            .stdout(Stdio::null())
            .spawn()
            .expect("Chromium starts");
        let mut lines = BufReader::new(child.stderr.take().unwrap()).lines();
        let address = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| line.split_once("ws://").map(|(_, rest)| rest.split('/').next().unwrap().to_owned()))
            .expect("Chromium says where it listens");
        // Its further words must be read or it would stop at a full pipe.
        std::thread::spawn(move || lines.map_while(Result::ok).for_each(drop));
        let url = page_url(&address);
        let stream = TcpStream::connect(&address).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        let (socket, _) = tungstenite::client(url, stream).expect("the page answers");
        let mut browser = Self { child, socket, next: 0, events: Vec::new(), folder };
        for domain in ["Page", "Runtime", "Network", "Log"] {
            browser.call(&format!("{domain}.enable"), &json!({}));
        }
        Some(browser)
    }

    /// A folder of its own, gone when it ends.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// One command and its answer.
    pub(crate) fn call(&mut self, method: &str, params: &Value) -> Value {
        self.next += 1;
        let id = self.next;
        let text = json!({"id": id, "method": method, "params": params}).to_string();
        self.socket.send(Message::text(text)).unwrap();
        loop {
            let message = self.read();
            if message["id"] == json!(id) {
                assert!(message.get("error").is_none(), "{method}: {}", message["error"]);
                return message["result"].clone();
            }
            self.events.push(message);
        }
    }

    fn read(&mut self) -> Value {
        loop {
            if let Message::Text(text) = self.socket.read().expect("the browser answers in time") {
                return serde_json::from_str(&text).unwrap();
            }
        }
    }

    fn wait_for(&mut self, method: &str) {
        let begun = Instant::now();
        while !self.events.iter().any(|event| event["method"] == method) {
            assert!(begun.elapsed() < PATIENCE, "{method} never came");
            let message = self.read();
            self.events.push(message);
        }
    }

    /// Sets the width of the window.
    pub(crate) fn width(&mut self, width: u32) {
        let size = json!({"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false});
        self.call("Emulation.setDeviceMetricsOverride", &size);
    }

    /// Opens a file. What is told later of errors and requests is of this file.
    pub(crate) fn open(&mut self, file: &Path) {
        self.events.clear();
        self.call("Page.navigate", &json!({"url": format!("file://{}", file.display())}));
        self.wait_for("Page.loadEventFired");
    }

    /// Everything that went wrong in the page, and everything it asked for beside itself.
    pub(crate) fn complaints(&mut self) -> Vec<String> {
        // A round trip, so that what the page sent before has come.
        self.run("1");
        let told = self.events.iter().filter_map(|event| {
            let params = &event["params"];
            match event["method"].as_str()? {
                "Runtime.exceptionThrown" => Some(format!("script fails: {}", params["exceptionDetails"])),
                "Runtime.consoleAPICalled" => Some(format!("console: {}", params["args"])),
                "Log.entryAdded" => Some(format!("log: {}", params["entry"]["text"])),
                "Network.requestWillBeSent" if params["type"] != "Document" => {
                    Some(format!("asks for {}", params["request"]["url"]))
                }
                _ => None,
            }
        });
        told.collect()
    }

    /// The value of an expression in the page; a promise is waited for.
    pub(crate) fn run(&mut self, script: &str) -> Value {
        let params = json!({"expression": script, "returnByValue": true, "awaitPromise": true});
        let answer = self.call("Runtime.evaluate", &params);
        assert!(answer.get("exceptionDetails").is_none(), "{}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// Presses and lets go a key.
    pub(crate) fn press(&mut self, key: &str, code: u32) {
        for kind in ["keyDown", "keyUp"] {
            let event = json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code});
            self.call("Input.dispatchKeyEvent", &event);
        }
    }

    /// The page as a PDF on the paper its style asks for.
    pub(crate) fn pdf(&mut self) -> Vec<u8> {
        let answer = self.call("Page.printToPDF", &json!({"preferCSSPageSize": true, "printBackground": true}));
        from_base64(answer["data"].as_str().unwrap())
    }

    /// A part of the page as a PNG, from `y` down.
    pub(crate) fn picture(&mut self, y: f64, width: u32, height: u32) -> Vec<u8> {
        let clip = json!({"x": 0, "y": y, "width": width, "height": height, "scale": 1});
        let params = json!({"format": "png", "clip": clip, "captureBeyondViewport": true});
        from_base64(self.call("Page.captureScreenshot", &params)["data"].as_str().unwrap())
    }
}

/// Asks the browser for the address of its page.
fn page_url(address: &str) -> String {
    let begun = Instant::now();
    loop {
        let mut stream = TcpStream::connect(address).unwrap();
        write!(stream, "GET /json/list HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        // The browser may keep the line open, so the end is where the list ends.
        let mut bytes = Vec::new();
        let list: Value = loop {
            let mut some = [0; 4096];
            let count = stream.read(&mut some).unwrap();
            bytes.extend_from_slice(&some[..count]);
            let text = String::from_utf8_lossy(&bytes);
            let body = text.split_once("\r\n\r\n").map_or("", |(_, body)| body);
            if let Ok(list) = serde_json::from_str(body) {
                break list;
            }
            assert!(count > 0, "the browser says: {text}");
        };
        let page = list.as_array().unwrap().iter().find(|one| one["type"] == "page");
        if let Some(url) = page.and_then(|one| one["webSocketDebuggerUrl"].as_str()) {
            return url.to_owned();
        }
        assert!(begun.elapsed() < PATIENCE, "Chromium opens no page");
        std::thread::sleep(Duration::from_millis(100));
    }
}

/// Pages of a PDF and the sizes of their paper, in points.
pub(crate) fn sheets(pdf: &[u8]) -> (usize, Vec<String>) {
    let text = String::from_utf8_lossy(pdf);
    let count = text.match_indices("/Type /Page").filter(|(at, _)| !text[at + 11..].starts_with('s')).count();
    let mut sizes: Vec<String> = text
        .match_indices("/MediaBox [")
        .map(|(at, _)| text[at + 11..].split(']').next().unwrap().to_owned())
        .collect();
    sizes.sort();
    sizes.dedup();
    (count, sizes)
}

fn from_base64(text: &str) -> Vec<u8> {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut out, mut bits, mut held) = (Vec::new(), 0_u32, 0_u32);
    for letter in text.bytes().filter(|letter| *letter != b'=') {
        let value = LETTERS.iter().position(|one| *one == letter).expect("base64");
        bits = bits << 6 | u32::try_from(value).unwrap();
        held += 6;
        if held >= 8 {
            held -= 8;
            out.push(u8::try_from(bits >> held & 0xff).unwrap());
        }
    }
    out
}

#[test]
fn base64_is_read() {
    assert_eq!(from_base64("aGF5IGFuZCBzZWVk"), b"hay and seed");
    assert_eq!(from_base64("aGF5IQ=="), b"hay!");
}

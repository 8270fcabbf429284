//! A desk that is open as long as a test holds it, and a client that speaks bare HTTP to it:
//! what is sent is written out, so that what no library would send can be sent too.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

use serde_json::{Value, json};

use crate::support::Bench;

/// No answer takes as long, also where all of the machine is at work.
const PATIENCE: Duration = Duration::from_secs(120);

/// An open desk.
pub(super) struct Desk {
    child: Child,
    out: BufReader<ChildStdout>,
    said: tempfile::NamedTempFile,
    pub(super) port: u16,
    pub(super) token: String,
}

/// An answer.
#[derive(Debug)]
pub(super) struct Reply {
    pub(super) status: u16,
    pub(super) headers: Vec<(String, String)>,
    pub(super) body: Vec<u8>,
}

/// A connection that is kept for many requests.
pub(super) struct Talk {
    stream: BufReader<TcpStream>,
}

impl Desk {
    /// A desk on the folder of a bench.
    pub(super) fn open(bench: &Bench) -> Self {
        Self::open_with(bench, &["."])
    }

    /// A desk as the command line opens it.
    pub(super) fn open_with(bench: &Bench, arguments: &[&str]) -> Self {
        let said = tempfile::NamedTempFile::new().unwrap();
        let mut child = Command::new(env!("CARGO_BIN_EXE_ansata"))
            .args(["desk", "--no-browser"])
            .args(arguments)
            .current_dir(bench.path("."))
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(said.reopen().unwrap())
            .spawn()
            .unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut address = String::new();
        while !address.contains("http://") {
            address.clear();
            let read = out.read_line(&mut address).unwrap();
            let why = std::fs::read_to_string(said.path()).unwrap();
            assert!(read > 0, "the desk did not open: {why}");
        }
        let place = address.trim().strip_prefix("http://127.0.0.1:").unwrap();
        let mut parts = place.split('/');
        let port = parts.next().unwrap().parse().unwrap();
        let token = parts.next().unwrap().to_owned();
        Self { child, out, said, port, token }
    }

    pub(super) fn id(&self) -> u32 {
        self.child.id()
    }

    /// The path of something at the desk.
    pub(super) fn path(&self, place: &str) -> String {
        format!("/{}/{place}", self.token)
    }

    pub(super) fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    /// A connection of its own.
    pub(super) fn talk(&self) -> Talk {
        Talk::to(self.port).unwrap()
    }

    /// What is answered to bytes as they are; `None` where the connection is closed without
    /// a word.
    pub(super) fn raw(&self, bytes: &[u8]) -> Option<Reply> {
        let mut talk = self.talk();
        // Who is refused before all is sent need not be listened to.
        let _ = talk.stream.get_mut().write_all(bytes);
        talk.reply()
    }

    /// A request of the usual kind with headers of the test's own.
    pub(super) fn asked(&self, method: &str, place: &str, headers: &str, body: &[u8]) -> Reply {
        let head = format!(
            "{method} {} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\nContent-Length: {}\r\n{headers}\r\n",
            self.path(place),
            self.host(),
            body.len()
        );
        let mut talk = self.talk();
        // Who is refused before all is sent need not be listened to.
        let _ = talk.stream.get_mut().write_all(&[head.as_bytes(), body].concat());
        if method != "HEAD" {
            return talk.reply().expect("an answer");
        }
        let (status, headers) = talk.head().expect("an answer");
        Reply { status, headers, body: Vec::new() }
    }

    pub(super) fn get(&self, place: &str) -> Reply {
        self.asked("GET", place, "", b"")
    }

    pub(super) fn post(&self, place: &str, body: &[u8]) -> Reply {
        self.asked("POST", place, OWN, body)
    }

    /// What is told of a place, as JSON.
    pub(super) fn told(&self, place: &str) -> Value {
        self.get(place).json()
    }

    /// What is answered to JSON.
    pub(super) fn posted(&self, place: &str, body: &Value) -> Value {
        self.post(place, body.to_string().as_bytes()).json()
    }

    /// What becomes of changes.
    pub(super) fn changed(&self, layout: &str, changes: Value) -> Value {
        self.posted(&format!("layout/{layout}/change"), &json!({ "changes": changes }))
    }

    /// Asks the program to end, as a terminal or the system does.
    pub(super) fn signalled(&self, signal: &str) {
        let mut kill = Command::new("kill");
        kill.args([&format!("-{signal}"), &self.id().to_string()]);
        assert!(kill.status().unwrap().success(), "kill -{signal}");
    }

    /// Waits for the program's end: its status and what it said from the address on.
    pub(super) fn ended(&mut self) -> (Option<i32>, String) {
        let mut said = String::new();
        self.out.read_to_string(&mut said).unwrap();
        (self.child.wait().unwrap().code(), said)
    }

    /// Ends it as a power cut would.
    pub(super) fn killed(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// Memory that it takes, in bytes, as Linux tells it.
    pub(super) fn memory(&self) -> u64 {
        let told = std::fs::read_to_string(format!("/proc/{}/status", self.id())).unwrap();
        let line = told.lines().find_map(|line| line.strip_prefix("VmRSS:")).unwrap();
        line.split_whitespace().next().unwrap().parse::<u64>().unwrap() * 1024
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        // It may have ended before.
        let _ = self.child.kill();
        let _ = self.child.wait();
        let said = std::fs::read_to_string(self.said.path()).unwrap_or_default();
        if !std::thread::panicking() {
            assert!(!said.contains("panicked"), "the desk panicked: {said}");
        }
    }
}

/// Headers that the page sends with everything that changes something.
pub(super) const OWN: &str = "x-ansata: desk\r\nContent-Type: application/json\r\n";

impl Talk {
    /// To the desk of a port; an error where nobody listens any more.
    pub(super) fn to(port: u16) -> std::io::Result<Self> {
        let stream = TcpStream::connect(("127.0.0.1", port))?;
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        Ok(Self { stream: BufReader::new(stream) })
    }

    /// JSON sent as the page sends it; `None` where the desk is gone.
    pub(super) fn post(&mut self, desk: &Desk, place: &str, body: &Value) -> Option<Value> {
        self.send(&page_post(desk, place, body))?;
        self.reply().map(|reply| reply.json())
    }

    /// Bytes sent; `None` where the desk is gone.
    pub(super) fn send(&mut self, bytes: &[u8]) -> Option<()> {
        self.stream.get_mut().write_all(bytes).ok()
    }

    /// The next line of a stream, without its end; `None` where the stream ends.
    pub(super) fn line(&mut self) -> Option<String> {
        let mut line = String::new();
        let read = self.stream.read_line(&mut line).ok()?;
        (read > 0).then(|| line.trim_end().to_owned())
    }

    /// The head of an answer: status and headers.
    pub(super) fn head(&mut self) -> Option<(u16, Vec<(String, String)>)> {
        let first = self.line()?;
        let status = first.split(' ').nth(1)?.parse().ok()?;
        let mut headers = Vec::new();
        loop {
            let line = self.line()?;
            let Some((name, value)) = line.split_once(':') else { break };
            headers.push((name.to_ascii_lowercase(), value.trim().to_owned()));
        }
        Some((status, headers))
    }

    /// The whole answer.
    pub(super) fn reply(&mut self) -> Option<Reply> {
        let (status, headers) = self.head()?;
        let length = headers.iter().find(|(name, _)| name == "content-length");
        let mut body = Vec::new();
        match length.and_then(|(_, value)| value.parse().ok()) {
            Some(length) => {
                body.resize(length, 0);
                self.stream.read_exact(&mut body).ok()?;
            }
            // A stream would never end; an answer without a body has no length either.
            None if headers.iter().any(|(name, _)| name == "transfer-encoding") => {}
            None if status == 204 => {}
            None => {
                self.stream.read_to_end(&mut body).ok()?;
            }
        }
        Some(Reply { status, headers, body })
    }
}

/// A request as the page sends it, for a connection that is kept.
pub(super) fn page_post(desk: &Desk, place: &str, body: &Value) -> Vec<u8> {
    let (path, host, body) = (desk.path(place), desk.host(), body.to_string());
    let length = body.len();
    format!("POST {path} HTTP/1.1\r\nHost: {host}\r\nContent-Length: {length}\r\n{OWN}\r\n{body}")
        .into_bytes()
}

impl Reply {
    pub(super) fn header(&self, name: &str) -> Option<&str> {
        let mut all = self.headers.iter().filter(|(known, _)| known == name);
        let (first, second) = (all.next(), all.next());
        assert!(second.is_none(), "{name} is told twice");
        first.map(|(_, value)| value.as_str())
    }

    pub(super) fn text(&self) -> String {
        String::from_utf8(self.body.clone()).unwrap()
    }

    /// The body of an answer that is no refusal.
    pub(super) fn json(&self) -> Value {
        assert_eq!(self.status, 200, "{}", String::from_utf8_lossy(&self.body));
        serde_json::from_slice(&self.body).unwrap()
    }

    /// The sentence of a refusal.
    pub(super) fn refused(&self) -> String {
        let told: Value = serde_json::from_slice(&self.body).unwrap_or_else(|error| {
            panic!("{}: {error}: {}", self.status, String::from_utf8_lossy(&self.body))
        });
        told["refused"].as_str().unwrap().to_owned()
    }
}

/// Everything in a folder and below with its bytes: what is written shows.
pub(super) fn everything(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let told = path.display().to_string();
        if let Ok(leads) = path.read_link() {
            all.push((told, leads.into_os_string().into_encoded_bytes()));
        } else if path.is_dir() {
            all.extend(everything(&path));
        } else {
            all.push((told, std::fs::read(&path).unwrap()));
        }
    }
    all.sort();
    all
}

/// Numbers that look like chance and are the same in every run (xorshift64, Marsaglia 2003).
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn seeded(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below another.
    pub(super) fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(most.max(1)).unwrap()).unwrap()
    }

    pub(super) fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

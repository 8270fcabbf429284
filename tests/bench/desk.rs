//! How long the desk takes from a letter typed to all that the page shows, over HTTP as a
//! browser asks: the file saved, the job done, the drawings written.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::Instant;

use serde_json::{Value, json};

use crate::clock::table;

/// Letters typed for one figure.
const TYPED: usize = 200;

/// Sixty words, as a maker would type them; on a plate of its own they take ten rows or so.
const SIXTY: &str = "\
ansata = 1
title = \"Sixty words\"
[plate]
size = \"180 x 130 mm\"
material = \"brass\"
[lettering]
default = \"EB Garamond\"
[[line]]
text = \"This tower was raised by the ringers of Marrowby Vale and their neighbours, who carried \
every stone of it up the hill by hand in the dry summer of 1894, hung six bells in it before the \
frost came, and rang them for the first time on the eve of the new year, so that the whole valley \
heard it and came out to listen in the snow\"
";

/// A desk that answers, closed when it is dropped.
struct Desk {
    program: Child,
    stream: BufReader<TcpStream>,
    host: String,
    token: String,
}

impl Desk {
    fn open(folder: &std::path::Path) -> Self {
        let mut program = Command::new(env!("CARGO_BIN_EXE_ansata"));
        program.args(["desk", "--no-browser"]).arg(folder).stdout(Stdio::piped());
        let mut program = program.spawn().unwrap();
        let told = BufReader::new(program.stdout.take().unwrap()).lines().nth(1).unwrap().unwrap();
        let address = told.trim().strip_prefix("http://").unwrap();
        let (host, token) = address.split_once('/').unwrap();
        let stream = BufReader::new(TcpStream::connect(host).unwrap());
        Self {
            program,
            stream,
            host: host.to_owned(),
            token: token.trim_end_matches('/').to_owned(),
        }
    }

    fn asked(&mut self, method: &str, path: &str, body: &Value) -> Value {
        let body = body.to_string();
        let request = format!(
            "{method} /{}/{path} HTTP/1.1\r\nHost: {}\r\nx-ansata: desk\r\n\
             Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
            self.token,
            self.host,
            body.len()
        );
        self.stream.get_mut().write_all(request.as_bytes()).unwrap();
        let mut length = 0;
        loop {
            let mut line = String::new();
            self.stream.read_line(&mut line).unwrap();
            if let Some(told) = line.to_lowercase().strip_prefix("content-length:") {
                length = told.trim().parse().unwrap();
            }
            if line == "\r\n" {
                break;
            }
        }
        let mut answer = vec![0; length];
        self.stream.read_exact(&mut answer).unwrap();
        serde_json::from_slice(&answer).unwrap()
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

/// A letter typed at the end of a line, and taken away again.
pub(super) fn desk() {
    let folder = tempfile::tempdir().unwrap();
    let own = concat!(env!("CARGO_MANIFEST_DIR"), "/layouts");
    for entry in std::fs::read_dir(own).unwrap().map(Result::unwrap) {
        std::fs::copy(entry.path(), folder.path().join(entry.file_name())).unwrap();
    }
    std::fs::write(folder.path().join("sixty-words.toml"), SIXTY).unwrap();
    let mut desk = Desk::open(folder.path());
    let mut rows = Vec::new();
    for name in
        ["sixty-words", "dedication", "oval", "ansate", "opening", "photograph", "photo-etched"]
    {
        let layout = format!("layout/{name}.toml");
        let bench = desk.asked("GET", &format!("{layout}/bench"), &Value::Null);
        let lines = bench["values"]["line"].as_array().unwrap();
        let at = lines.iter().rposition(|line| line["text"].is_string()).unwrap();
        let text = lines[at]["text"].as_str().unwrap().to_owned();
        let mut times: Vec<f64> = (0..TYPED)
            .map(|n| {
                let to = if n % 2 == 0 { format!("{text}s") } else { text.clone() };
                let change = json!({ "do": "set", "path": ["line", at, "text"], "to": to });
                let begun = Instant::now();
                let answer = desk.asked(
                    "POST",
                    &format!("{layout}/change"),
                    &json!({ "changes": [change], "stroke": "typed" }),
                );
                let took = begun.elapsed().as_secs_f64() * 1e6;
                assert_eq!(answer["kept"], "all", "{name}");
                took
            })
            .collect();
        times.sort_by(f64::total_cmp);
        rows.push((name.to_owned(), vec![times[TYPED / 2], times[TYPED * 19 / 20]]));
    }
    table("desk: from a letter typed to what the page shows", &["half of them", "19 of 20"], &rows);
}

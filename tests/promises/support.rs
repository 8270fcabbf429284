//! A small vocabulary for running the program in a folder of its own.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What a run of the program gave.
pub(crate) struct Ran {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// A folder that vanishes with the test.
pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// A bench with one layout on it, `cup.toml`.
    pub(crate) fn with(layout: &str) -> Self {
        let bench = Self::new();
        bench.put("cup.toml", layout);
        bench
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn put(&self, name: &str, bytes: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }

    pub(crate) fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    pub(crate) fn has(&self, name: &str) -> bool {
        self.path(name).exists()
    }

    /// Names in a folder, sorted; hidden ones too, so that leftovers show.
    pub(crate) fn names(&self, folder: &str) -> Vec<String> {
        let Ok(entries) = std::fs::read_dir(self.path(folder)) else { return Vec::new() };
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Ran {
        self.run_with(arguments, "")
    }

    pub(crate) fn run_with(&self, arguments: &[&str], stdin: &str) -> Ran {
        let mut child = Command::new(env!("CARGO_BIN_EXE_ansata"))
            .args(arguments)
            .current_dir(self.folder.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        let output = std::thread::scope(|scope| {
            // Beside the reading: a program that answers much while it is told much would
            // wait for us, and we for it. One that refuses early closes its end; that is no
            // failure of the test.
            scope.spawn(move || input.write_all(stdin.as_bytes()).is_ok());
            child.wait_with_output().unwrap()
        });
        let err = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(!err.contains("panicked"), "the program panicked: {err}");
        Ran {
            status: output.status.code().expect("the program was not killed"),
            out: String::from_utf8_lossy(&output.stdout).into_owned(),
            err,
        }
    }

    /// The report of `fit --json` on a layout of the bench.
    /// Orla Penhallick signs for a layout.
    pub(crate) fn sign(&self, layout: &str) {
        let (role, date) = ("For the ringers", "2026-11-25");
        let ran = self.run(&[
            "signoff",
            layout,
            "--by",
            "Orla Penhallick",
            "--role",
            role,
            "--date",
            date,
        ]);
        assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    }

    pub(crate) fn report(&self, layout: &str) -> serde_json::Value {
        let ran = self.run(&["fit", layout, "--json"]);
        serde_json::from_str(&ran.out).unwrap_or_else(|error| panic!("{error}: {}", ran.err))
    }
}

/// A shipped layout with its companions put on a bench; the file's name.
pub(crate) fn shipped(bench: &Bench) -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts");
    let mut layouts = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if name.ends_with(".png") {
            continue;
        }
        bench.put(&name, std::fs::read(&path).unwrap());
        if name.ends_with(".toml") {
            layouts.push(name);
        }
    }
    layouts.sort();
    layouts
}

/// Codes of a report's findings.
pub(crate) fn codes(report: &serde_json::Value) -> Vec<String> {
    let findings = report["findings"].as_array().unwrap();
    findings.iter().map(|finding| finding["code"].as_str().unwrap().to_owned()).collect()
}

/// A layout of a few lines on a brass plate; `more` is appended as it is.
pub(crate) fn plain(size: &str, lines: &[&str], more: &str) -> String {
    let mut text = format!(
        "ansata = 1\ntitle = \"Test plate\"\n[plate]\nsize = \"{size}\"\nmaterial = \"brass\"\n\
         [lettering]\ndefault = \"Atkinson Hyperlegible\"\n"
    );
    for line in lines {
        text.push_str(&format!("[[line]]\ntext = {}\n", toml::Value::String((*line).to_owned())));
    }
    text.push_str(more);
    text
}

//! Serves the page from a temporary folder and sends requests to it, byte by byte.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::Value;
use tempfile::TempDir;

use crate::attack::peak_memory_kb;

/// An invented pond with a session of twenty minutes, so that a debug build can fish it.
const POND: &str = r#"# An invented pond.
title = "An invented pond"
session.length = "20 min"
line.middle.distance = "15 m"
line.margin = { distance = "6 m" }
shoal.small.count = { low = 20, high = 30 }
shoal.small.weight = "0.8 kg"
shoal.small.home = "middle"

[plan.often]
recast = "90 s" # as it was taught
load = "25 g"

[plan.seldom]
recast = "7 min"
feed.margin = { every = "2 min", amount = "6 g" }

[plan.buried]
recast = "4 min"
load_style = "buried"
"#;

/// A query for heavy work: a session of twelve hours with 1,200 fish, as much as the page accepts.
pub(super) const HEAVY: &str =
    "scenario=tern-bar&set=session.length%3D12+h&set=shoal.bar-fish.count%3D1200";

/// A running server of the page.
pub(super) struct PageServer {
    folder: TempDir,
    child: Child,
    pub(super) at: SocketAddr,
}

/// An answer: status, head and body.
pub(super) struct Answer {
    pub(super) status: u16,
    pub(super) head: String,
    pub(super) body: String,
}

impl Answer {
    pub(super) fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|why| panic!("{why} in {}", self.body))
    }
}

/// The program, to be started with arguments.
pub(super) fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_shoalwise"))
}

/// Percent-encodes what may not appear in a query.
pub(super) fn encoded(text: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~".contains(&byte);
    let each = |byte: u8| match plain(byte) {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    };
    text.bytes().map(each).collect()
}

/// A query of keys and values.
pub(super) fn query(pairs: &[(&str, &str)]) -> String {
    let pairs = pairs.iter().map(|(key, value)| format!("{}={}", encoded(key), encoded(value)));
    pairs.collect::<Vec<_>>().join("&")
}

impl PageServer {
    /// Serves a folder that holds the pond; a secret file is next to the folder.
    pub(super) fn pond() -> Self {
        Self::of("waters/pond.toml", |_| {})
    }

    /// As [`PageServer::pond`], with the scenario named on the command line and a folder that was changed before.
    pub(super) fn of(scenario: &str, change: impl FnOnce(&Path)) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let waters = folder.path().join("waters");
        fs::create_dir(&waters).expect("a folder");
        fs::write(waters.join("pond.toml"), POND).expect("a scenario");
        fs::write(folder.path().join("secret.toml"), "title = \"secret\"\n").expect("a file");
        fs::write(waters.join("notes.txt"), "private notes").expect("a file");
        #[cfg(unix)]
        std::os::unix::fs::symlink("../secret.toml", waters.join("way-out.toml")).expect("a link");
        change(&waters);
        let mut child = program()
            .current_dir(folder.path())
            .args(["page", scenario, "--no-open"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut line = String::new();
        let out = child.stdout.as_mut().expect("a pipe");
        BufReader::new(out).read_line(&mut line).expect("the address is printed");
        let address = line.strip_prefix("http://").and_then(|rest| rest.split('/').next());
        let at =
            address.and_then(|at| at.parse().ok()).unwrap_or_else(|| panic!("no address: {line}"));
        Self { folder, child, at }
    }

    /// A path in the folder above the scenarios.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Every file below the folder, with its contents.
    pub(super) fn files(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files = Vec::new();
        for folder in [self.path("."), self.path("waters")] {
            for entry in
                fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"))
            {
                if entry.path().is_file() {
                    files.push((entry.path(), fs::read(entry.path()).expect("a file")));
                }
            }
        }
        files.sort();
        files
    }

    /// Peak memory of the program [kB]. `None` where the system does not report it.
    pub(super) fn peak_memory_kb(&self) -> Option<u64> {
        peak_memory_kb(&self.child.id().to_string())
    }

    /// A connection whose reads time out.
    pub(super) fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(self.at).expect("the server listens");
        stream.set_read_timeout(Some(Duration::from_secs(60))).expect("a limit");
        stream
    }

    /// Sends bytes unchanged, and reads until the server closes the connection or sends nothing more.
    pub(super) fn send(&self, bytes: &[u8]) -> Option<Answer> {
        let mut stream = self.connect();
        // The server may have closed the connection before everything was sent.
        let _ = stream.write_all(bytes);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        parsed(&answer)
    }

    /// The answer that a browser would get.
    pub(super) fn get(&self, target: &str) -> Answer {
        let request =
            format!("GET {target} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.at);
        self.send(request.as_bytes()).unwrap_or_else(|| panic!("no answer to {target}"))
    }

    /// The answer to a text that the page sends.
    pub(super) fn post(&self, target: &str, body: &str) -> Answer {
        let request = format!(
            "POST {target} HTTP/1.1\r\nHost: {}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.at,
            body.len()
        );
        self.send(request.as_bytes()).unwrap_or_else(|| panic!("no answer to {target}"))
    }

    /// All events of a comparison, each with its name and data.
    pub(super) fn live(&self, pairs: &[(&str, &str)]) -> Vec<(String, Value)> {
        let answer = self.get(&format!("/api/live?{}", query(pairs)));
        assert_eq!(answer.status, 200, "{}", answer.body);
        answer.body.split("\n\n").filter_map(event).collect()
    }

    /// Stops the program with a signal and returns its exit code.
    #[cfg(unix)]
    pub(super) fn ended_by(mut self, signal: &str) -> Option<i32> {
        let pid = self.child.id().to_string();
        let sent = Command::new("kill").args([signal, &pid]).status().expect("kill is there");
        assert!(sent.success());
        self.child.wait().expect("it ends").code()
    }
}

impl Drop for PageServer {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// One event of a stream. `None` for a comment that keeps the connection open.
fn event(text: &str) -> Option<(String, Value)> {
    let field = |name: &str| text.lines().find_map(|line| line.strip_prefix(name));
    let data = serde_json::from_str(field("data: ")?).expect("data is JSON");
    Some((field("event: ")?.to_owned(), data))
}

/// A parsed answer; a chunked body is joined.
fn parsed(bytes: &[u8]) -> Option<Answer> {
    let text = String::from_utf8_lossy(bytes);
    let (head, body) = text.split_once("\r\n\r\n")?;
    let status = head.split_whitespace().nth(1)?.parse().ok()?;
    let body = match head.to_ascii_lowercase().contains("transfer-encoding: chunked") {
        true => unchunked(body),
        false => body.to_owned(),
    };
    Some(Answer { status, head: head.to_owned(), body })
}

fn unchunked(mut rest: &str) -> String {
    let mut body = String::new();
    while let Some((size, after)) = rest.split_once("\r\n") {
        let size = usize::from_str_radix(size, 16).unwrap_or(0);
        if size == 0 || after.len() < size {
            break;
        }
        body.push_str(&after[..size]);
        rest = after[size..].strip_prefix("\r\n").unwrap_or("");
    }
    body
}

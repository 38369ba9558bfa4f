//! Build script: records the commit for the stamp on every result, and writes the structs of the books.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

/// Books of parameters: the folder below `sim/`, the struct and what it holds.
const BOOKS: [(&str, &str, &str); 4] = [
    ("water", "WaterParams", "What the model takes from outside about moving water."),
    (
        "bait",
        "BaitParams",
        "What the model takes from outside about bait on a feeder and on the bed.",
    ),
    ("fish", "FishParams", "What the model takes from outside about fish."),
    (
        "angler",
        "AnglerParams",
        "What the model takes from outside about tackle and the person holding it.",
    ),
];

fn main() {
    let package = env::var("CARGO_MANIFEST_DIR").expect("Cargo names the folder of the package");
    let source = source_version(Path::new(&package));
    for path in &source.depends_on {
        // A path that does not exist would rebuild everything each time.
        if path.exists() {
            println!("cargo:rerun-if-changed={}", path.display());
        }
    }
    println!("cargo:rustc-env=SHOALWISE_COMMIT={}", source.commit());
    println!("cargo:rustc-env=SHOALWISE_DIRTY={}", source.is_dirty);
    let target = env::var("TARGET").unwrap_or_else(|_| "unknown".to_owned());
    println!("cargo:rustc-env=SHOALWISE_TARGET={target}");
    keep_page_model();
    let folder = env::var("OUT_DIR").expect("Cargo names the folder for generated files");
    for (subject, name, about) in BOOKS {
        let path = format!("sim/{subject}/params.toml");
        println!("cargo:rerun-if-changed={path}");
        let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let code = book_struct(&path, &text, subject, name, about);
        let file = Path::new(&folder).join(format!("{subject}_params.rs"));
        fs::write(&file, code).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    }
}

/// Which source the program is built from.
pub(crate) struct SourceVersion {
    /// First 12 digits of the commit. `None` if the commit is not known.
    pub hash: Option<String>,
    /// Whether the source differs from that commit.
    pub is_dirty: bool,
    /// Files and folders whose change may change the answer.
    pub depends_on: Vec<PathBuf>,
}

impl SourceVersion {
    /// The commit as it stands in stamps.
    pub(crate) fn commit(&self) -> String {
        let hash = self.hash.as_deref().unwrap_or("unknown");
        format!("{hash}{}", if self.is_dirty { "-dirty" } else { "" })
    }
}

/// The version of the source in a folder. A package of the registry and an archive of a commit say it in a file. A
/// repository is only asked if the folder is its top: a repository that surrounds the folder knows nothing of this source.
pub(crate) fn source_version(package: &Path) -> SourceVersion {
    let (registry, archive) =
        (package.join(".cargo_vcs_info.json"), package.join(".git_archival.txt"));
    let mut depends_on: Vec<PathBuf> =
        ["sim", "Cargo.toml", "Cargo.lock"].iter().map(|name| package.join(name)).collect();
    depends_on.extend([registry.clone(), archive.clone()]);
    if let Ok(text) = fs::read_to_string(registry) {
        let hash = text.split_once("\"sha1\"").and_then(|(_, rest)| short_hash(rest));
        return SourceVersion { hash, is_dirty: text.contains("\"dirty\": true"), depends_on };
    }
    let git = |args: &[&str]| {
        let output = Command::new("git").current_dir(package).args(args).output().ok()?;
        let text = String::from_utf8(output.stdout).ok().filter(|_| output.status.success())?;
        Some(text.trim().to_owned())
    };
    let is_top = git(&["rev-parse", "--show-toplevel"])
        .is_some_and(|top| Path::new(&top).canonicalize().ok() == package.canonicalize().ok());
    if !is_top {
        let text = fs::read_to_string(archive).unwrap_or_default();
        let hash = text.split_once("node:").and_then(|(_, rest)| short_hash(rest));
        return SourceVersion { hash, is_dirty: false, depends_on };
    }
    // In a second work tree, `.git` is a file that names another folder.
    for name in ["HEAD", "logs/HEAD"] {
        depends_on.extend(git(&["rev-parse", "--git-path", name]).map(|path| package.join(path)));
    }
    let changes = git(&["status", "--porcelain", "--", "sim", "Cargo.toml", "Cargo.lock"]);
    SourceVersion {
        hash: git(&["rev-parse", "HEAD"]).and_then(|hash| short_hash(&hash)),
        is_dirty: changes.is_none_or(|changes| !changes.is_empty()),
        depends_on,
    }
}

/// The first 12 digits of the first commit in a text.
fn short_hash(text: &str) -> Option<String> {
    let mut words = text.split(|c: char| !c.is_ascii_alphanumeric());
    let is_hash =
        |word: &&str| word.len() >= 40 && word.bytes().all(|byte| byte.is_ascii_hexdigit());
    words.find(is_hash).map(|word| word[..12].to_owned())
}

/// Puts the model for browsers next to the generated files; without one, an empty file says so.
fn keep_page_model() {
    println!("cargo:rerun-if-env-changed=SHOALWISE_PAGE_MODEL");
    let folder = env::var("OUT_DIR").expect("Cargo names the folder for generated files");
    let model = env::var("SHOALWISE_PAGE_MODEL").ok().map_or_else(Vec::new, |path| {
        println!("cargo:rerun-if-changed={path}");
        fs::read(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
    });
    let file = Path::new(&folder).join("page-model.wasm.gz");
    fs::write(&file, model).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
}

/// The call of `book_struct!` for one book: a field for each row, documented by what the row says.
fn book_struct(path: &str, text: &str, subject: &str, name: &str, about: &str) -> String {
    let mut code = format!(
        "crate::params::book_struct! {{\n/// {about}\n///\n/// The values are those of one day, or the central ones.\n\
         {name} from \"{subject}\" {{\n"
    );
    for row in rows(path, text) {
        let _ = writeln!(code, "{}{},", row_docs(subject, &row), row.key);
    }
    code.push_str("}\n}\n");
    code
}

/// One row of a book, each value as it is written but without quotation marks.
#[derive(Default)]
struct BookRow<'a> {
    key: &'a str,
    values: Vec<(&'a str, &'a str)>,
}

impl BookRow<'_> {
    /// The value of a field; empty if it is not written.
    fn value(&self, field: &str) -> &str {
        self.values.iter().find(|(name, _)| *name == field).map_or("", |(_, value)| value)
    }
}

/// The rows of a book. It reads what the books need of TOML: tables, and values on one line without escapes.
///
/// The program reads the same text with a full TOML reader, and a test compares the rows of both.
fn rows<'a>(path: &str, text: &'a str) -> Vec<BookRow<'a>> {
    let mut rows: Vec<BookRow> = Vec::new();
    for (number, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        if let Some(key) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            rows.push(BookRow { key, ..BookRow::default() });
            continue;
        }
        let pair = line.split_once(" = ").filter(|(_, value)| !value.contains('\\'));
        let Some(((field, value), row)) = pair.zip(rows.last_mut()) else {
            panic!("{path}:{}: neither `[row]` nor `field = value` on one line", number + 1);
        };
        row.values.push((field, value.trim_matches('"')));
    }
    rows
}

/// Doc comment of a row: its meaning and unit, value, range, prior, note, grade and source.
fn row_docs(subject: &str, row: &BookRow) -> String {
    let mut meaning = row.value("says").to_owned();
    if let Some(first) = meaning.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let unit = match row.value("unit") {
        "" => String::new(),
        unit => format!(" \\[{unit}\\]"),
    };
    let range = row.value("range").trim_matches(['[', ']']).replace(", ", " to ");
    let prior = match row.value("prior") {
        "fixed" => "Fixed",
        "normal" => "Normal",
        "log-normal" => "LogNormal",
        other => panic!("book.{subject}.{}: no prior is called {other}", row.key),
    };
    let mut grade = row.value("grade").to_owned();
    if let Some(first) = grade.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let mut docs = format!(
        "/// {meaning}{unit}.\n///\n/// Central value {}, range {range}, \
         prior [`{prior}`](crate::params::Prior::{prior}).\n",
        row.value("value")
    );
    let note = row.value("note");
    if !note.is_empty() {
        let _ = writeln!(docs, "///\n/// Note: {note}.");
    }
    let _ = writeln!(docs, "///\n/// - **Key** `book.{subject}.{}`.", row.key);
    let _ = writeln!(docs, "/// - **Grade** [`{grade}`](crate::params::Grade::{grade}).");
    let sources: Vec<String> =
        row.value("source").split_whitespace().map(|key| format!("`{key}`")).collect();
    if !sources.is_empty() {
        let _ = writeln!(docs, "/// - **Source** {}.", sources.join(", "));
    }
    docs
}

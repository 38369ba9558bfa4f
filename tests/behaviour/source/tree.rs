//! The source files of a folder, and the tree of folders that they form.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::source_text::{NamePath, code_only, paths_from};

/// One text file: its path below the root, with forward slashes, and its text.
pub(super) struct Source {
    pub(super) path: String,
    pub(super) text: String,
}

impl Source {
    /// The topmost folder that holds the file. `None` for a file at the root.
    pub(super) fn layer(&self) -> Option<&str> {
        self.path.split_once('/').map(|(folder, _)| folder)
    }

    /// The file's name without its ending.
    pub(super) fn stem(&self) -> &str {
        let file = self.path.rsplit('/').next().unwrap_or(&self.path);
        file.rsplit_once('.').map_or(file, |(stem, _)| stem)
    }

    /// Path of the folder that holds the file; empty at the root.
    pub(super) fn folder(&self) -> &str {
        self.path.rsplit_once('/').map_or("", |(folder, _)| folder)
    }

    pub(super) fn is_rust(&self) -> bool {
        self.path.ends_with(".rs")
    }

    pub(super) fn is_face(&self) -> bool {
        self.path == "mod.rs" || self.path.ends_with("/mod.rs")
    }
}

/// A path in the code that was followed to the file or folder that it names.
pub(super) struct Import {
    /// Line of the path, from 1.
    pub(super) line: usize,
    /// Path of the file (without `.rs`) or folder that declares the name.
    pub(super) target: String,
}

/// The modules of a crate: every folder with its face, and every file.
pub(super) struct Tree {
    /// What each module re-exports: name → path of the module that it comes from. Files re-export nothing.
    modules: BTreeMap<String, BTreeMap<String, String>>,
}

impl Tree {
    pub(super) fn new(sources: &[Source]) -> Self {
        let mut modules = BTreeMap::new();
        for source in sources.iter().filter(|source| source.is_rust()) {
            let mut folder = source.folder();
            while !folder.is_empty() {
                modules.entry(folder.to_owned()).or_default();
                folder = folder.rsplit_once('/').map_or("", |(parent, _)| parent);
            }
            if !source.is_face() {
                modules.entry(joined(source.folder(), source.stem())).or_default();
            }
        }
        let mut tree = Self { modules };
        for source in sources.iter().filter(|source| source.is_face()) {
            let exports = tree.exports(source);
            tree.modules.insert(source.folder().to_owned(), exports);
        }
        tree
    }

    pub(super) fn is_module(&self, path: &str) -> bool {
        self.modules.contains_key(path)
    }

    pub(super) fn is_folder(&self, path: &str) -> bool {
        path.is_empty() || self.modules.keys().any(|module| parent(module) == Some(path))
    }

    /// Everything that a file names by `crate::…` or `super::…`.
    pub(super) fn imports(&self, source: &Source) -> Vec<Import> {
        let code = code_only(&source.text);
        let below_root = paths_from(&code, "crate").into_iter().map(|path| (String::new(), path));
        let base = if source.is_face() {
            parent(source.folder()).unwrap_or_default().to_owned()
        } else {
            source.folder().to_owned()
        };
        let nearby = paths_from(&code, "super").into_iter().map(|path| (base.clone(), path));
        let mut imports = Vec::new();
        for (mut base, NamePath { line, words }) in below_root.chain(nearby) {
            let climbs = words.iter().take_while(|word| *word == "super").count();
            for _ in 0..climbs {
                base = parent(&base).unwrap_or_default().to_owned();
            }
            imports.push(Import { line, target: self.follow(&base, &words[climbs..]) });
        }
        imports
    }

    /// The module that declares what a path names, starting from a folder.
    fn follow(&self, from: &str, words: &[String]) -> String {
        let mut module = from.to_owned();
        for word in words {
            let inner = joined(&module, word);
            if self.is_module(&inner) {
                module = inner;
            } else if let Some(source) =
                self.modules.get(&module).and_then(|exports| exports.get(word))
            {
                // A face may show what another face shows; a chain of faces is short.
                return if self.modules.get(source).is_some_and(|exports| exports.contains_key(word))
                {
                    self.follow(source, std::slice::from_ref(word))
                } else {
                    source.clone()
                };
            } else {
                break;
            }
        }
        module
    }

    /// The names that a face shows, each with the module that it comes from.
    fn exports(&self, face: &Source) -> BTreeMap<String, String> {
        let code = code_only(&face.text);
        let mut exports = BTreeMap::new();
        for statement in code.split(';') {
            let Some(at) = statement.rfind("use ") else { continue };
            for path in paths_from(&format!("face::{}", statement[at + 4..].trim()), "face") {
                let words = match path.words.first().map(String::as_str) {
                    Some("self") => &path.words[1..],
                    _ => &path.words[..],
                };
                if let Some((name, modules)) = words.split_last() {
                    let source = self.follow(face.folder(), modules);
                    if source != face.folder() {
                        exports.insert(name.clone(), source);
                    }
                }
            }
        }
        exports
    }
}

/// The path of a child of a folder.
pub(super) fn joined(folder: &str, child: &str) -> String {
    if folder.is_empty() { child.to_owned() } else { format!("{folder}/{child}") }
}

/// The folder that holds a file or folder. `None` for the root itself.
pub(super) fn parent(path: &str) -> Option<&str> {
    if path.is_empty() {
        None
    } else {
        Some(path.rsplit_once('/').map_or("", |(folder, _)| folder))
    }
}

/// Reads the files below a folder of the project that have one of some endings, in order of path.
pub(super) fn files_below(folder: &str, endings: &[&str]) -> Vec<Source> {
    fn walk(folder: &Path, root: &Path, endings: &[&str], sources: &mut Vec<Source>) {
        let mut entries: Vec<_> = fs::read_dir(folder)
            .unwrap_or_else(|why| panic!("{}: {why}", folder.display()))
            .map(|entry| entry.expect("an entry of a folder that can be listed").path())
            .filter(|path| path.file_name().is_some_and(|name| name != "node_modules"))
            .collect();
        entries.sort();
        for entry in entries {
            let ending = entry.extension().map(|ending| ending.to_string_lossy().into_owned());
            if entry.is_dir() {
                walk(&entry, root, endings, sources);
            } else if ending.is_some_and(|ending| endings.contains(&ending.as_str())) {
                let below = entry.strip_prefix(root).expect("below the root where the walk began");
                let path = below.to_string_lossy().replace('\\', "/");
                let text = fs::read_to_string(&entry)
                    .unwrap_or_else(|why| panic!("{}: {why}", entry.display()));
                sources.push(Source { path, text });
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut sources = Vec::new();
    walk(&root, &root, endings, &mut sources);
    sources
}

/// A source file made up by a test.
pub(super) fn planted(path: &str, text: &str) -> Source {
    Source { path: path.to_owned(), text: text.to_owned() }
}

#[test]
fn a_path_is_followed_through_faces_to_the_file_that_declares_the_name() {
    let sources = [
        planted("study/mod.rs", "//! S.\nmod compare;\npub use compare::{Comparison, run};\n"),
        planted("study/compare/mod.rs", "//! C.\nmod result;\npub use result::Comparison;\n"),
        planted("study/compare/result.rs", "//! R.\n"),
        planted("study/sweep.rs", "//! S.\nuse super::compare::Comparison;\nuse super::stamp;\n"),
        planted("cli/page.rs", "//! P.\nuse crate::study::{Comparison, Other};\n"),
    ];
    let tree = Tree::new(&sources);
    let targets = |source: &Source| -> Vec<String> {
        tree.imports(source).into_iter().map(|import| import.target).collect()
    };
    assert_eq!(targets(&sources[3]), ["study/compare/result", "study"]);
    assert_eq!(targets(&sources[4]), ["study/compare/result", "study"]);
}

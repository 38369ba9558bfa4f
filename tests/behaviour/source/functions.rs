//! Functions are short: at most 60 lines, but for a few that are tables.

use super::source_text::{code_only, is_word};
use super::tree::{Source, files_below, planted};

const MAX_LINES: usize = 60;

/// Longer functions: file below `sim/`, name, and why it is not split.
const TABLES: &[(&str, &str, &str)] = &[
    ("angler/rules/condition.rs", "window", "a few lines for each condition of a rule"),
    ("report/format/events.rs", "description", "a sentence for each event"),
    ("report/text/warnings.rs", "warning_text", "a sentence for each warning"),
];

/// A function with a body: its name, its first line, from 1, and how many lines it has.
#[derive(Debug, PartialEq, Eq)]
struct Function {
    name: String,
    line: usize,
    lines: usize,
}

/// Every function of a source text, in order of its first line.
fn functions(text: &str) -> Vec<Function> {
    let code = code_only(text);
    let starts = code.match_indices("fn ").filter(|&(at, _)| !code[..at].ends_with(is_word));
    starts.filter_map(|(at, _)| function(&code, at)).collect()
}

/// The function whose `fn` begins at a place in the code. `None` if it has no name or no body.
fn function(code: &str, at: usize) -> Option<Function> {
    let name: String = code[at + 3..].chars().take_while(|&c| is_word(c)).collect();
    let line = 1 + code[..at].matches('\n').count();
    let mut depth = 0_i32;
    for (end, c) in code[at..].char_indices() {
        match c {
            ';' if depth == 0 => return None,
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        if c == '}' && depth == 0 {
            let lines = 1 + code[at..at + end].matches('\n').count();
            return (!name.is_empty()).then_some(Function { name, line, lines });
        }
    }
    None
}

/// Functions that are too long, each with file and line, and rows of the table that are out of date.
fn breaches(sources: &[Source], tables: &[(&str, &str, &str)]) -> Vec<String> {
    let mut breaches = Vec::new();
    let mut unused: Vec<_> = tables.iter().collect();
    for Source { path, text } in sources {
        for Function { name, line, lines } in functions(text) {
            if lines <= MAX_LINES {
                continue;
            }
            let listed = tables.iter().any(|row| (row.0, row.1) == (path.as_str(), name.as_str()));
            unused.retain(|row| (row.0, row.1) != (path.as_str(), name.as_str()));
            if !listed {
                breaches.push(format!(
                    "{path}:{line}: `{name}` has {lines} lines, more than {MAX_LINES}: split it"
                ));
            }
        }
    }
    let unused = unused.iter().map(|(path, name, _)| {
        format!("{path}: `{name}` has at most {MAX_LINES} lines: take it off the list")
    });
    breaches.extend(unused);
    breaches
}

#[test]
fn only_tables_are_long_functions() {
    let sources = files_below("sim", &["rs"]);
    assert!(sources.iter().map(|source| functions(&source.text).len()).sum::<usize>() > 2_000);
    let breaches = breaches(&sources, TABLES);
    assert!(breaches.is_empty(), "sim/{}", breaches.join("\nsim/"));
}

#[test]
fn functions_are_found_with_their_lengths() {
    let text = "fn a() {}\ntrait T { fn b(x: [u8; 2]);\n  fn c(&self) -> [u8; 2]\n  { \"}\"; } }\n\
                const F: fn(u8) = d;\n// fn e() {}\nfn f(x: u8)\nwhere u8: Copy {\n  fn g() {}\n}\n";
    let found = functions(text);
    let found: Vec<_> = found.iter().map(|f| (f.name.as_str(), f.line, f.lines)).collect();
    assert_eq!(found, [("a", 1, 1), ("c", 3, 2), ("f", 7, 4), ("g", 9, 1)]);
}

#[test]
fn a_long_function_and_a_row_without_one_are_breaches() {
    let long = |lines: usize| format!("//! F.\n\nfn f() {{{}}}\n", "\n".repeat(lines - 1));
    let file = |lines| [planted("fish/swim.rs", &long(lines))];
    let row = [("fish/swim.rs", "f", "a table")];
    assert_eq!(breaches(&file(MAX_LINES), &[]), Vec::<String>::new());
    let too_long = breaches(&file(MAX_LINES + 1), &[]);
    assert_eq!(too_long, ["fish/swim.rs:3: `f` has 61 lines, more than 60: split it"]);
    assert_eq!(breaches(&file(MAX_LINES + 1), &row), Vec::<String>::new());
    let out_of_date = breaches(&file(MAX_LINES), &row);
    assert_eq!(out_of_date, ["fish/swim.rs: `f` has at most 60 lines: take it off the list"]);
}

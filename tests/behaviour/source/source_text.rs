//! Reads Rust source as text: code without comments and strings, prose without code, names and paths.

/// The text with comments, strings and characters replaced by spaces; lines keep their numbers.
pub(super) fn code_only(text: &str) -> String {
    kept(text, |part| part == Part::Code)
}

/// The comments of a text, the rest replaced by spaces; lines keep their numbers.
pub(super) fn comments_only(text: &str) -> String {
    kept(text, |part| part == Part::Comment)
}

/// The comments and strings of a text, the rest replaced by spaces; lines keep their numbers.
pub(super) fn prose_only(text: &str) -> String {
    kept(text, |part| part != Part::Code)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Code,
    Comment,
    Text,
}

/// The text with all other parts replaced by spaces.
fn kept(text: &str, keeps: impl Fn(Part) -> bool) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut kept = String::with_capacity(text.len());
    let mut i = 0;
    while i < chars.len() {
        let rest = &chars[i..];
        let begins_word = i == 0 || !is_word(chars[i - 1]);
        let (part, end) = match rest {
            ['/', '/', ..] => (Part::Comment, i + rest.iter().take_while(|&&c| c != '\n').count()),
            ['/', '*', ..] => (Part::Comment, end_of_block_comment(&chars, i)),
            ['r', '"' | '#', ..] if begins_word => (Part::Text, end_of_raw_string(&chars, i)),
            ['"', ..] => (Part::Text, end_of_string(&chars, i)),
            ['\'', '\\', _, tail @ ..] => {
                (Part::Text, i + 4 + tail.iter().take_while(|&&c| c != '\'').count())
            }
            ['\'', _, '\'', ..] => (Part::Text, i + 3),
            _ => (Part::Code, i + 1),
        };
        // A word that begins with `r` and is not a raw string is code.
        let (part, end) = if end == i { (Part::Code, i + 1) } else { (part, end.min(chars.len())) };
        let blank = |c: char| if keeps(part) || c == '\n' { c } else { ' ' };
        kept.extend(chars[i..end].iter().map(|&c| blank(c)));
        i = end;
    }
    kept
}

/// Whether a character can stand in a name.
pub(super) fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn end_of_block_comment(chars: &[char], from: usize) -> usize {
    let (mut depth, mut i) = (0, from);
    while i + 1 < chars.len() {
        match (chars[i], chars[i + 1]) {
            ('/', '*') => (depth, i) = (depth + 1, i + 2),
            ('*', '/') => (depth, i) = (depth - 1, i + 2),
            _ => i += 1,
        }
        if depth == 0 {
            return i;
        }
    }
    chars.len()
}

fn end_of_string(chars: &[char], from: usize) -> usize {
    let mut i = from + 1;
    while i < chars.len() && chars[i] != '"' {
        i += if chars[i] == '\\' { 2 } else { 1 };
    }
    i + 1
}

/// End of a raw string that begins at an `r`; that place itself if it is no raw string.
fn end_of_raw_string(chars: &[char], from: usize) -> usize {
    let hashes = chars[from + 1..].iter().take_while(|&&c| c == '#').count();
    if chars.get(from + 1 + hashes) != Some(&'"') {
        return from;
    }
    let closing: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
    let inside = from + 2 + hashes;
    chars[inside..]
        .windows(closing.len())
        .position(|window| window == closing)
        .map_or(chars.len(), |length| inside + length + closing.len())
}

/// A path in the code that begins with `crate` or `super`.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct NamePath {
    /// Line on which its last word stands, from 1.
    pub(super) line: usize,
    /// Its words after the first.
    pub(super) words: Vec<String>,
}

/// Every path that begins with a given word, groups spelled out, macro paths (`$crate`) left out.
pub(super) fn paths_from(code: &str, first: &str) -> Vec<NamePath> {
    let root = format!("{first}::");
    let mut paths = Vec::new();
    for (at, _) in code.match_indices(&root) {
        let before = code[..at].chars().next_back();
        if before.is_some_and(|c| is_word(c) || c == '$' || c == ':') {
            continue;
        }
        let line = 1 + code[..at].matches('\n').count();
        let mut reader = Reader { rest: code[at + root.len()..].chars().collect(), at: 0, line };
        reader.follow(&mut Vec::new(), &mut paths);
    }
    paths
}

/// The words of a name: parts between underscores and before capitals, in lower case.
pub(super) fn words_of_name(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut was_lower = false;
    for c in name.chars() {
        if c == '_' || (c.is_uppercase() && was_lower) {
            words.push(String::new());
        }
        if c != '_' {
            words.last_mut().expect("one word at least").extend(c.to_lowercase());
        }
        was_lower = c.is_lowercase() || c.is_ascii_digit();
    }
    words.retain(|word| !word.is_empty());
    words
}

/// Every name in a line of code, with its place in the line.
pub(super) fn names_in(line: &str) -> Vec<(usize, &str)> {
    let mut names = Vec::new();
    let mut start = None;
    for (at, c) in line.char_indices().chain([(line.len(), ' ')]) {
        match (is_word(c), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                names.push((from, &line[from..at]));
                start = None;
            }
            _ => {}
        }
    }
    names.retain(|(_, name)| !name.starts_with(|c: char| c.is_ascii_digit()));
    names
}

struct Reader {
    rest: Vec<char>,
    at: usize,
    line: usize,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.rest.get(self.at).copied()
    }

    fn step(&mut self) {
        if self.peek() == Some('\n') {
            self.line += 1;
        }
        self.at += 1;
    }

    fn skip_space(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.step();
        }
    }

    /// Follows one path whose beginning is `so_far`, into its groups.
    fn follow(&mut self, so_far: &mut Vec<String>, paths: &mut Vec<NamePath>) {
        let depth = so_far.len();
        loop {
            self.skip_space();
            if self.peek() == Some('{') {
                self.step();
                self.group(so_far, paths);
                break;
            }
            let mut word = String::new();
            while let Some(c) = self.peek().filter(|&c| is_word(c) || c == '*') {
                word.push(c);
                self.step();
            }
            if word.is_empty() {
                break;
            }
            so_far.push(word);
            let line = self.line;
            let after: String = self.rest[self.at..].iter().take(2).collect();
            if after != "::" {
                paths.push(NamePath { line, words: so_far.clone() });
                break;
            }
            self.at += 2;
        }
        so_far.truncate(depth);
    }

    /// Follows each member of a group, up to and past its closing brace.
    fn group(&mut self, so_far: &mut Vec<String>, paths: &mut Vec<NamePath>) {
        while let Some(c) = self.peek() {
            if c == '}' {
                self.step();
                break;
            } else if is_word(c) || c == '*' || c == '{' {
                self.follow(so_far, paths);
                self.skip_rename();
            } else {
                self.step();
            }
        }
    }

    /// Goes past `as Name` to the end of a group's member.
    fn skip_rename(&mut self) {
        while self.peek().is_some_and(|c| c != ',' && c != '}') {
            self.step();
        }
    }
}

#[test]
fn comments_and_strings_are_not_code() {
    let text = "let a = \"crate::fish\"; // crate::fish\nlet b = r#\"crate::\"fish\"#; /* crate:: /* */ */ c('\"', '\\'', 'x');\nd::<'a>()";
    let code = code_only(text);
    assert!(!code.contains("crate"), "{code}");
    assert_eq!(code.matches('\n').count(), 2);
    assert!(prose_only(text).contains("crate::\"fish\"") && !prose_only(text).contains("let"));
    assert_eq!(comments_only(text).matches("crate::").count(), 2, "one comment a line");
    assert!(
        code.contains("let b = ") && code.contains("c(") && code.contains("d::<'a>()"),
        "{code}"
    );
}

#[test]
fn groups_are_spelled_out_with_their_lines() {
    let code = "use crate::{\n    engine::{Dice, Time as When},\n    fish::state::Fish,\n};\nfn f() -> crate::water::Point {}\n$crate::params::Book; pub(in crate::session) fn g() {}";
    let paths: Vec<(usize, String)> = paths_from(code, "crate")
        .into_iter()
        .map(|path| (path.line, path.words.join("::")))
        .collect();
    let expected = [
        (2, "engine::Dice"),
        (2, "engine::Time"),
        (3, "fish::state::Fish"),
        (5, "water::Point"),
        (6, "session"),
    ];
    assert_eq!(paths, expected.map(|(line, path)| (line, path.to_owned())));
}

#[test]
fn names_are_split_into_their_words() {
    assert_eq!(words_of_name("MOST_DAYS"), ["most", "days"]);
    assert_eq!(words_of_name("BestAsked"), ["best", "asked"]);
    assert_eq!(words_of_name("kg2_of"), ["kg2", "of"]);
    let names: Vec<&str> =
        names_in("let a_b = x.told(3m);").iter().map(|&(_, name)| name).collect();
    assert_eq!(names, ["let", "a_b", "x", "told"]);
}

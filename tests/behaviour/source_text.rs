//! Reads Rust source as text: code without comments and strings, and the paths it names.

/// The text with comments, strings and characters blanked, every line still in its place.
pub(crate) fn code_only(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut code = String::with_capacity(text.len());
    let mut i = 0;
    while i < chars.len() {
        let rest = &chars[i..];
        let begins_word = i == 0 || !is_word(chars[i - 1]);
        let end = match rest {
            ['/', '/', ..] => i + rest.iter().take_while(|&&c| c != '\n').count(),
            ['/', '*', ..] => end_of_block_comment(&chars, i),
            ['r', '"' | '#', ..] if begins_word => end_of_raw_string(&chars, i),
            ['"', ..] => end_of_string(&chars, i),
            ['\'', '\\', _, tail @ ..] => i + 4 + tail.iter().take_while(|&&c| c != '\'').count(),
            ['\'', _, '\'', ..] => i + 3,
            _ => i,
        };
        if end > i {
            let end = end.min(chars.len());
            code.extend(chars[i..end].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
            i = end;
        } else {
            code.push(chars[i]);
            i += 1;
        }
    }
    code
}

/// Whether a character can stand in a name.
pub(crate) fn is_word(c: char) -> bool {
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

/// A path that begins at the root of the crate.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct CratePath {
    /// Line on which its last word stands, from 1.
    pub(crate) line: usize,
    /// Its words after `crate`.
    pub(crate) words: Vec<String>,
}

/// Every path that begins with `crate::`, groups spelled out, macro paths (`$crate`) left out.
pub(crate) fn crate_paths(code: &str) -> Vec<CratePath> {
    let mut found = Vec::new();
    for (at, root) in code.match_indices("crate::") {
        let before = code[..at].chars().next_back();
        if before.is_some_and(|c| is_word(c) || c == '$') {
            continue;
        }
        let line = 1 + code[..at].matches('\n').count();
        let mut reader = Reader { rest: code[at + root.len()..].chars().collect(), at: 0, line };
        reader.follow(&mut Vec::new(), &mut found);
    }
    found
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
    fn follow(&mut self, so_far: &mut Vec<String>, found: &mut Vec<CratePath>) {
        let depth = so_far.len();
        loop {
            self.skip_space();
            if self.peek() == Some('{') {
                self.step();
                self.group(so_far, found);
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
                found.push(CratePath { line, words: so_far.clone() });
                break;
            }
            self.at += 2;
        }
        so_far.truncate(depth);
    }

    /// Follows each member of a group, up to and past its closing brace.
    fn group(&mut self, so_far: &mut Vec<String>, found: &mut Vec<CratePath>) {
        while let Some(c) = self.peek() {
            if c == '}' {
                self.step();
                break;
            } else if is_word(c) || c == '*' || c == '{' {
                self.follow(so_far, found);
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
fn comments_and_strings_are_no_code() {
    let text = "let a = \"crate::fish\"; // crate::fish\nlet b = r#\"crate::\"fish\"#; /* crate:: /* */ */ c('\"', '\\'', 'x');\nd::<'a>()";
    let code = code_only(text);
    assert!(!code.contains("crate"), "{code}");
    assert_eq!(code.matches('\n').count(), 2);
    assert!(code.contains("let b = ") && code.contains("c(") && code.contains("d::<'a>()"), "{code}");
}

#[test]
fn groups_are_spelled_out_with_their_lines() {
    let code = "use crate::{\n    engine::{Dice, Time as When},\n    fish::state::Fish,\n};\nfn f() -> crate::water::Point {}\n$crate::params::Book; pub(in crate::session) fn g() {}";
    let paths: Vec<(usize, String)> =
        crate_paths(code).into_iter().map(|path| (path.line, path.words.join("::"))).collect();
    let expected = [
        (2, "engine::Dice"),
        (2, "engine::Time"),
        (3, "fish::state::Fish"),
        (5, "water::Point"),
        (6, "session"),
    ];
    assert_eq!(paths, expected.map(|(line, path)| (line, path.to_owned())));
}

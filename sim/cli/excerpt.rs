//! Faults of a file with an excerpt of the line that each is on, for people at a terminal.
//!
//! Editors and scripts get a line a fault instead, which begins with file and line.

use std::collections::BTreeMap;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use textwrap::WordSplitter;

use crate::scenario::{Diagnostic, Diagnostics, SourceLocation, shown_plainly};

/// How excerpts are drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct ExcerptStyle {
    /// Whether in colour.
    pub(super) has_colour: bool,
    /// Width of the terminal [columns].
    pub(super) columns: usize,
}

/// The faults, each with the line of its file; `text_of` reads a file, and gives `None` if it cannot.
///
/// A fault that is on no line of a file, or whose file cannot be read, is one line of text.
pub(super) fn faults_with_excerpts(
    faults: &Diagnostics,
    style: ExcerptStyle,
    text_of: impl Fn(&str) -> Option<String>,
) -> String {
    let renderer = if style.has_colour { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(style.columns);
    let mut texts: BTreeMap<&str, Option<String>> = BTreeMap::new();
    let mut blocks: Vec<String> = Vec::new();
    for fault in faults.reported() {
        let text = texts.entry(&fault.file).or_insert_with(|| text_of(&fault.file));
        let line = text.as_ref().and_then(|text| text.lines().nth(fault.location.line()? - 1));
        blocks.push(match line {
            Some(line) => excerpt(fault, line, &renderer, style.columns),
            None => filled(&shown_plainly(&fault.to_string()), style.columns),
        });
    }
    blocks.push(faults.counted());
    blocks.join("\n\n")
}

/// A fault, the line it is on with a mark under what is wrong, and how to fix it.
fn excerpt(fault: &Diagnostic, line: &str, renderer: &Renderer, columns: usize) -> String {
    /// Columns before the text of a help, about: number of the line, frame and word.
    const INDENT: usize = 14;
    // Marks that change the direction of writing would move the rest of the line.
    let line = shown_plainly(line.trim_end());
    let key = if fault.key.is_empty() { String::new() } else { format!("{}: ", fault.key) };
    let title = shown_plainly(&format!("{key}{}", fault.problem));
    let nearest = fault.nearest.as_ref().map(|nearest| format!("did you mean `{nearest}`?"));
    let nearest = nearest.as_deref().map(shown_plainly).unwrap_or_default();
    let mark = AnnotationKind::Primary.span(marked(fault, &line)).label(nearest);
    let number = fault.location.line().unwrap_or(1);
    let source = Snippet::source(&line).line_start(number).path(&fault.file).annotation(mark);
    let help = filled(&shown_plainly(&fault.fix), columns.max(2 * INDENT) - INDENT);
    let group = Level::ERROR.primary_title(&title).element(source);
    if help.is_empty() {
        return renderer.render(&[group]);
    }
    renderer.render(&[group.element(Level::HELP.message(&help))])
}

/// A text in lines of at most `columns`; names and commands are not broken at their hyphens.
fn filled(text: &str, columns: usize) -> String {
    textwrap::fill(text, textwrap::Options::new(columns).word_splitter(WordSplitter::NoHyphenation))
}

/// The part of a line that is wrong, in bytes: the value if the key is known and stands before it, else all that is
/// written.
fn marked(fault: &Diagnostic, line: &str) -> Range<usize> {
    if let SourceLocation::Position { column, .. } = fault.location {
        let start = line.char_indices().nth(column - 1).map_or(line.len(), |(byte, _)| byte);
        let length = line[start..].chars().next().map_or(0, char::len_utf8);
        return start..start + length;
    }
    let end = without_comment(line).trim_end().len();
    let start = line.len() - line.trim_start().len();
    let whole = start.min(end)..end;
    let Some(equals) = line[..end].find('=') else { return whole };
    let name = fault.key.rsplit('.').next().unwrap_or_default();
    let written = line[..equals].trim().trim_matches(['"', '\'']);
    let is_its_value = !name.is_empty() && written.rsplit('.').next() == Some(name);
    if !is_its_value {
        return whole;
    }
    if fault.nearest.is_some() && fault.problem.contains("key") {
        return start..line[..equals].trim_end().len();
    }
    let value = &line[equals + 1..end];
    let start = equals + 1 + (value.len() - value.trim_start().len());
    if start < end { start..end } else { whole }
}

/// A line up to its comment.
fn without_comment(line: &str) -> &str {
    let mut quote = None;
    for (byte, c) in line.char_indices() {
        match (quote, c) {
            (None, '#') => return &line[..byte],
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), c) if c == open => quote = None,
            _ => {}
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "[plan.a]\nrecast = \"2 minits\" # slow\nrecats = \"3 min\"\n";

    fn fault(line: usize, key: &str, problem: &str, nearest: Option<&str>) -> Diagnostic {
        let fix = "write a time, as \"2 min\"";
        let mut fault = Diagnostic::new(&SourceLocation::Line(line), key, problem, fix);
        fault.nearest = nearest.map(str::to_owned);
        fault
    }

    fn drawn(fault: Diagnostic, has_colour: bool) -> String {
        let faults = Diagnostics::from_fault("water.toml", fault);
        let style = ExcerptStyle { has_colour, columns: 100 };
        faults_with_excerpts(&faults, style, |file| (file == "water.toml").then(|| FILE.to_owned()))
    }

    #[test]
    fn the_value_is_marked_and_the_fix_follows() {
        let text = drawn(fault(2, "plan.a.recast", "`minits` is no unit", Some("min")), false);
        for part in [
            "plan.a.recast: `minits` is no unit",
            "water.toml:2:10",
            "2 | recast = \"2 minits\" # slow",
        ] {
            assert!(text.contains(part), "{part:?} is not in\n{text}");
        }
        let (source, marks) = text.split_once("# slow\n").expect("the line is shown");
        let column =
            source.lines().last().expect("a line").find("\"2 minits\"").expect("the value");
        let marks = marks.lines().next().expect("a line of marks");
        assert_eq!(marks.find('^'), Some(column), "\n{text}");
        assert_eq!(marks.matches('^').count(), "\"2 minits\"".len(), "\n{text}");
        assert!(marks.ends_with("did you mean `min`?"), "\n{text}");
        assert!(text.contains("help: write a time"), "\n{text}");
        assert!(text.ends_with("1 fault") && !text.contains('\u{1b}'), "\n{text}");
    }

    #[test]
    fn an_unknown_key_is_marked_itself() {
        let text =
            drawn(fault(3, "plan.a.recats", "there is no such key", Some("plan.a.recast")), false);
        assert_eq!(text.matches('^').count(), "recats".len(), "\n{text}");
    }

    #[test]
    fn colours_are_used_where_they_are_wanted() {
        assert!(drawn(fault(2, "plan.a.recast", "no unit", None), true).contains("\u{1b}["));
    }

    #[test]
    fn a_fault_without_a_line_is_a_line_of_text() {
        let mut of_file = fault(2, "plan", "there is no plan", None);
        of_file.location = SourceLocation::Set;
        let text = drawn(of_file, true);
        assert_eq!(text, "--set: plan: there is no plan; write a time, as \"2 min\"\n\n1 fault");
        let beyond = drawn(fault(9, "plan", "there is no plan", None), true);
        assert!(beyond.starts_with("water.toml:9: plan: "), "{beyond}");
    }

    #[test]
    fn nothing_in_a_file_controls_the_terminal() {
        let faults =
            Diagnostics::from_fault("w.toml", fault(1, "a", "\u{1b}[2Jno", Some("\u{202e}x")));
        let style = ExcerptStyle { has_colour: false, columns: 60 };
        let text = faults_with_excerpts(&faults, style, |_| {
            Some("a = \"\u{1b}[31m\u{202e}\u{9b}ä🐟\t\"".to_owned())
        });
        let controls = |c: &char| c.is_control() && *c != '\n' || *c == '\u{202e}';
        assert_eq!(text.chars().find(controls), None, "{text:?}");
    }
}

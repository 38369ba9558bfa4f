//! Reading a file of lessons, with all faults at once.

use std::path::Path;

use toml_edit::{Document, Item, TableLike, Value as TomlValue};

use super::lesson::{LESSONS_ENDING, Lesson, LessonChoice, MAX_CHOICES};
use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, is_hidden, listed, nearest_name, quoted,
};
use crate::scenario::edit::{ScenarioEdit, rewrite};
use crate::scenario::read::ScenarioSource;
use crate::scenario::schema::is_name;
use crate::scenario::values::{not_toml, place_in};

/// Maximum number of lessons of one file.
const MAX_LESSONS: usize = 50;
/// Minimum number of choices of one lesson.
const MIN_CHOICES: usize = 2;
/// Keys of a lesson.
const KEYS: [&str; 6] = ["title", "question", "look", "answer", "plan", "choice"];

/// One setting of a choice: its key below the plan, its value and its place.
struct ChoiceSetting {
    key: String,
    value: String,
    place: SourceLocation,
}

/// The lessons that stand next to a scenario file: of `tern-bar.toml` those in `tern-bar.lessons.toml`. None if there is no
/// such file.
///
/// # Errors
///
/// Everything that is wrong with the file of lessons, or with the scenario.
pub fn lessons_beside(path: &Path) -> Result<Vec<Lesson>, Diagnostics> {
    let file = path.with_extension(&LESSONS_ENDING[1..]);
    if !file.is_file() {
        return Ok(Vec::new());
    }
    let text = ScenarioSource::open(&file)?.text;
    read_lessons(&text, &file.display().to_string(), &ScenarioSource::open(path)?)
}

/// The lessons of a text; `shown` is the name of its file in faults, and `scenario` the one whose plans the choices copy.
///
/// ```
/// use sim::scenario::{ScenarioSource, read_lessons};
/// let pond = "line.bar.distance = \"28 m\"\nshoal.all.count = 60\nplan.wait.recast = \"6 min\"\n";
/// let text = r#"
/// [lesson.patience]
/// title = "Patience"
/// question = "How long should you wait?"
/// look = "Watch a day."
/// plan = "wait"
/// choice.short.recast = "2 min"
/// choice.long.recast = "9 min"
/// "#;
/// let lessons = read_lessons(text, "pond.lessons.toml", &ScenarioSource::new(pond, "pond")).expect("sound");
/// assert_eq!(lessons[0].choices[1].sets, [("recast".to_owned(), "9 min".to_owned())]);
/// ```
///
/// # Errors
///
/// Everything that is wrong with the text, and with the choices as plans of the scenario.
pub fn read_lessons(
    text: &str,
    shown: &str,
    scenario: &ScenarioSource,
) -> Result<Vec<Lesson>, Diagnostics> {
    let mut reader = LessonReader { text, scenario, faults: Diagnostics::default() };
    let lessons = reader.lessons();
    match reader.faults.is_empty() {
        true => Ok(lessons),
        false => Err(reader.faults.in_file(shown)),
    }
}

/// Number of keys in a table; zero if there is none.
fn entries(item: Option<&Item>) -> usize {
    item.and_then(Item::as_table_like).map_or(0, TableLike::len)
}

/// Reads lessons and collects faults.
struct LessonReader<'a> {
    text: &'a str,
    scenario: &'a ScenarioSource,
    faults: Diagnostics,
}

impl LessonReader<'_> {
    fn fault(&mut self, place: &SourceLocation, key: &str, problem: impl Into<String>, fix: &str) {
        self.faults.add(Diagnostic::new(place, key, problem, fix));
    }

    /// Where a key stands in its table.
    fn place(&self, table: &dyn TableLike, name: &str) -> SourceLocation {
        place_in(self.text, table.key(name).and_then(toml_edit::Key::span))
    }

    fn lessons(&mut self) -> Vec<Lesson> {
        let text = self.text;
        let document = match Document::parse(text) {
            Ok(document) => document,
            Err(error) => {
                self.faults.add(not_toml(text, &error));
                return Vec::new();
            }
        };
        let mut lessons = Vec::new();
        for (name, item) in document.as_table().iter() {
            let place = self.place(document.as_table(), name);
            if name != "lesson" {
                let fix = "a file of lessons has tables [lesson.NAME]";
                let near = nearest_name(name, ["lesson"]);
                self.faults.add(Diagnostic::new(&place, name, "no such key", fix).near(near));
                continue;
            }
            // Each choice is tried as a plan, so too many are refused before.
            let count = entries(Some(item));
            if count > MAX_LESSONS {
                let fix = format!("at most {MAX_LESSONS} in one file");
                self.fault(&place, "lesson", format!("there are {count}"), &fix);
                continue;
            }
            for (name, table) in self.tables("lesson", item, &place) {
                lessons.extend(self.lesson(name, table));
            }
        }
        if lessons.is_empty() && self.faults.is_empty() {
            let fix = "write [lesson.NAME] with title, question, look and choices";
            self.fault(&SourceLocation::File, "", "has no lesson", fix);
        }
        lessons
    }

    /// The named tables below a key.
    fn tables<'t>(
        &mut self,
        above: &str,
        item: &'t Item,
        place: &SourceLocation,
    ) -> Vec<(&'t str, &'t dyn TableLike)> {
        let Some(all) = item.as_table_like() else {
            self.fault(place, above, "is no table", &format!("write [{above}.NAME] for each"));
            return Vec::new();
        };
        let mut tables = Vec::new();
        for (name, item) in all.iter() {
            let place = self.place(all, name);
            match item.as_table_like() {
                _ if !is_name(name) => {
                    let fix = "names have letters, digits, - and _, at most 64 of them";
                    self.fault(&place, above, format!("{} cannot be a name", quoted(name)), fix);
                }
                None => {
                    let key = format!("{above}.{name}");
                    self.fault(&place, &key, "is no table", &format!("write [{key}]"));
                }
                Some(table) => tables.push((name, table)),
            }
        }
        tables
    }

    fn lesson(&mut self, name: &str, table: &dyn TableLike) -> Option<Lesson> {
        let above = format!("lesson.{name}");
        for (key, _) in table.iter().filter(|(key, _)| !KEYS.contains(key)) {
            let fix = format!("keys of a lesson: {}", listed(KEYS));
            let fault = Diagnostic::new(
                &self.place(table, key),
                format!("{above}.{key}"),
                "no such key",
                fix,
            );
            self.faults.add(fault.near(nearest_name(key, KEYS)));
        }
        let title = self.text(table, &above, "title", true);
        let question = self.text(table, &above, "question", true);
        let look = self.text(table, &above, "look", true);
        let answer = self.text(table, &above, "answer", false);
        let plan = self.text(table, &above, "plan", false);
        let choices_above = format!("{above}.choice");
        let place = self.place(table, "choice");
        let count = entries(table.get("choice"));
        let tables = match table.get("choice") {
            Some(item) if count <= MAX_CHOICES => self.tables(&choices_above, item, &place),
            _ => Vec::new(),
        };
        if tables.len() < MIN_CHOICES {
            let problem = format!("has {count} choices");
            let fix = format!("write {MIN_CHOICES} to {MAX_CHOICES} tables [{choices_above}.NAME]");
            self.fault(&place, &choices_above, problem, &fix);
        }
        let choices: Vec<LessonChoice> = tables
            .into_iter()
            .filter_map(|(name, table)| self.choice(&choices_above, name, table, plan.as_deref()))
            .collect();
        Some(Lesson {
            name: name.to_owned(),
            title: title?,
            question: question?,
            look: look?,
            answer,
            choices,
        })
    }

    /// A text of a lesson. `None` if it is left out.
    fn text(
        &mut self,
        table: &dyn TableLike,
        above: &str,
        key: &str,
        is_required: bool,
    ) -> Option<String> {
        let dotted = format!("{above}.{key}");
        let written = table.get(key).map(|item| item.as_str().map(str::trim));
        let fix = format!("write {key} = \"…\"");
        match written {
            None if is_required => {
                // The place of the lesson is that of any of its keys.
                let first = table.iter().next().map(|(name, _)| self.place(table, name));
                let place = first.unwrap_or(SourceLocation::File);
                self.fault(&place, &dotted, "is missing", &fix);
                None
            }
            None => None,
            Some(Some(text)) if text.contains(|c| is_hidden(c) && c != '\n') => {
                let problem = format!("{} has hidden characters", quoted(text));
                self.fault(
                    &self.place(table, key),
                    &dotted,
                    problem,
                    "write it again without them",
                );
                None
            }
            Some(Some(text)) if !text.is_empty() => Some(text.to_owned()),
            Some(_) => {
                self.fault(&self.place(table, key), &dotted, "is no text", &fix);
                None
            }
        }
    }

    /// One choice, tried as a plan of the scenario.
    fn choice(
        &mut self,
        above: &str,
        name: &str,
        table: &dyn TableLike,
        plan_of_lesson: Option<&str>,
    ) -> Option<LessonChoice> {
        let above = format!("{above}.{name}");
        let own_plan = match table.contains_key("plan") {
            true => Some(self.text(table, &above, "plan", true)?),
            false => None,
        };
        let first = table.iter().next().map(|(key, _)| self.place(table, key));
        let place = first.unwrap_or(SourceLocation::File);
        let Some(plan) = own_plan.or(plan_of_lesson.map(str::to_owned)) else {
            let fix = "write plan = \"NAME\" here or for the whole lesson";
            self.fault(&place, &above, "has no plan", fix);
            return None;
        };
        let mut settings = Vec::new();
        self.settings(table, "", &above, &mut settings);
        let choice = LessonChoice {
            name: name.to_owned(),
            plan,
            sets: settings.iter().map(|set| (set.key.clone(), set.value.clone())).collect(),
        };
        self.try_out(&choice, &settings, &above, &place);
        Some(choice)
    }

    /// Collects the settings of a choice with their keys below the plan.
    fn settings(
        &mut self,
        table: &dyn TableLike,
        below: &str,
        above: &str,
        settings: &mut Vec<ChoiceSetting>,
    ) {
        for (name, item) in table.iter().filter(|(name, _)| !(below.is_empty() && *name == "plan"))
        {
            let key = if below.is_empty() { name.to_owned() } else { format!("{below}.{name}") };
            let place = self.place(table, name);
            if let Some(table) = item.as_table_like() {
                self.settings(table, &key, above, settings);
                continue;
            }
            let value = match item.as_value() {
                Some(TomlValue::String(text)) => text.value().clone(),
                Some(TomlValue::Integer(number)) => number.value().to_string(),
                Some(TomlValue::Float(number)) => number.value().to_string(),
                Some(TomlValue::Boolean(flag)) => flag.value().to_string(),
                _ => {
                    let key = format!("{above}.{key}");
                    self.fault(&place, &key, "is no single value", "write it as in a plan");
                    continue;
                }
            };
            settings.push(ChoiceSetting { key, value, place });
        }
    }

    /// Reads the scenario with the choice as a plan; its faults are those of the lesson.
    fn try_out(
        &mut self,
        choice: &LessonChoice,
        settings: &[ChoiceSetting],
        above: &str,
        place: &SourceLocation,
    ) {
        let copies = [(choice.plan.clone(), choice.name.clone())];
        let own = format!("plan.{}.", choice.name);
        let sets: Vec<String> =
            settings.iter().map(|set| format!("{own}{}={}", set.key, set.value)).collect();
        let edit = ScenarioEdit { copies: &copies, sets: &sets, keep: &[] };
        let Err(faults) = rewrite(self.scenario, edit) else { return };
        for fault in faults.list() {
            let set = fault.key.strip_prefix(&own).and_then(|key| {
                settings
                    .iter()
                    .find(|set| set.key == key || key.starts_with(&format!("{}.", set.key)))
            });
            let (place, key) = match set {
                Some(set) => (&set.place, format!("{above}.{}", set.key)),
                None => (place, above.to_owned()),
            };
            // The plan that the choice would be is the choice itself in the file of lessons.
            let in_lesson = |words: &str| words.replace(own.trim_end_matches('.'), above);
            let nearest = fault.nearest.as_deref().map(in_lesson);
            let own_fault =
                Diagnostic::new(place, key, in_lesson(&fault.problem), in_lesson(&fault.fix));
            self.faults.add(own_fault.near(nearest));
        }
    }
}

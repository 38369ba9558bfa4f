//! A lesson as data, and the file that holds it.

use std::path::Path;

use super::read_lessons::read_lessons;
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::read::ScenarioSource;

/// How the name of a file of lessons ends; before it stands the name of the scenario.
pub const LESSONS_ENDING: &str = ".lessons.toml";
/// Maximum number of choices of one lesson.
pub const MAX_CHOICES: usize = 4;

/// One question with its choices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// Its name in the file.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The question.
    pub question: String,
    /// What to look at on a day of it.
    pub look: String,
    /// What the teacher says afterwards. `None` if the measured result says it all.
    pub answer: Option<String>,
    /// The choices, in the order of the file.
    pub choices: Vec<LessonChoice>,
}

/// One choice: a copy of a plan with some settings of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessonChoice {
    /// Its name, which the copy has too.
    pub name: String,
    /// The plan that is copied.
    pub plan: String,
    /// Its own settings: key below the plan, and value.
    pub sets: Vec<(String, String)>,
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

//! A lesson as data.

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

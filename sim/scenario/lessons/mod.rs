//! Lessons next to a scenario: a question, choices that are settings of its plans, and what to look at.
//!
//! A lesson never says which choice is best: that is measured. It must not know how a lesson is shown.

mod lesson;
mod read_lessons;

pub use lesson::{LESSONS_ENDING, Lesson, LessonChoice, MAX_CHOICES};
pub use read_lessons::{lessons_beside, read_lessons};

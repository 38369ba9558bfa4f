//! Mechanisms of the model that can be switched off one at a time, to see what each of them does.

use super::Scenario;

/// A mechanism of the model.
///
/// Switching one off sets rows of the books to values at which it has no effect, most of them outside the ranges that a
/// user may state: the model without it is no model of any water.
///
/// ```
/// use sim::scenario::{Mechanism, read};
/// let text = "[line.a]\ndistance = \"20 m\"\n[shoal.carp]\nweight = \"2 kg\"\n[plan.p]\n";
/// let mut scenario = read(text, "a", &[]).expect("sound");
/// scenario.switch_off(Mechanism::Ripples);
/// let row = scenario.books.fish.rows().iter().find(|row| row.key == "ripple_hides").expect("a row");
/// assert!(row.value.abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mechanism {
    /// Places far from cover, shallow and bright are dangerous.
    ExposedPlaces,
    /// A fish remembers where it was frightened, and is warier after it.
    RememberedFright,
    /// A fish that flees takes companions with it, and those that stay are warier.
    SharedFright,
    /// A lost fish frightens more than a netted one, and alarms its line.
    LostFish,
    /// A fight startles fish near it, and disturbs its line for those that come later.
    Fights,
    /// A caught fish is warier, and so are those that saw it.
    Captures,
    /// Items that are large for a mouth are taken less readily.
    Gape,
    /// A hookbait stands out less among feed of its own size.
    Masking,
    /// A little feed is worth less notice than much.
    Richness,
    /// Near smell leads a searching fish to a pile.
    NearSmell,
    /// Fish stay longer where they smell feed.
    ScentArousal,
    /// Carp are keener to feed as the light goes.
    Dusk,
    /// Ripples hide fish from above.
    Ripples,
    /// Clear water shows bait and other fish from farther.
    Clarity,
    /// The peg is open: fish come from and go to the rest of the lake.
    OpenPeg,
    /// Fish are slower in the cold.
    Slowness,
    /// Fish that feed draw others.
    Company,
    /// Fish learn what the sound of feed is worth.
    SignalLearning,
    /// Fish differ in how readily they come to feed.
    Habits,
    /// Fish turn back to where they fed well.
    Return,
    /// Sounds are located roughly, and trails are lost.
    Locating,
    /// A line that was given up is left alone for a while.
    Disappointment,
    /// Wind and currents carry scent.
    Drift,
    /// A larger load takes longer to open.
    OpeningByLoad,
    /// Fish are shy of thick lines and large hooks, and lost on weak ones.
    EndTackle,
}

/// No effect at any distance, time or size that a session knows.
pub(super) const BEYOND_ALL: f64 = 1e9;
/// Next to nothing, where zero would divide by zero.
pub(super) const TINY: f64 = 1e-9;

impl Mechanism {
    /// All of them.
    pub const ALL: [Self; 25] = [
        Self::ExposedPlaces,
        Self::RememberedFright,
        Self::SharedFright,
        Self::LostFish,
        Self::Fights,
        Self::Captures,
        Self::Gape,
        Self::Masking,
        Self::Richness,
        Self::NearSmell,
        Self::ScentArousal,
        Self::Dusk,
        Self::Ripples,
        Self::Clarity,
        Self::OpenPeg,
        Self::Slowness,
        Self::Company,
        Self::SignalLearning,
        Self::Habits,
        Self::Return,
        Self::Locating,
        Self::Disappointment,
        Self::Drift,
        Self::OpeningByLoad,
        Self::EndTackle,
    ];

    /// What it is, in a few words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::ExposedPlaces => "places far from cover, shallow and bright are dangerous",
            Self::RememberedFright => "frights are remembered",
            Self::SharedFright => "frights are shared",
            Self::LostFish => "a lost fish alarms its line",
            Self::Fights => "a fight startles fish and disturbs its line",
            Self::Captures => "captures make fish warier",
            Self::Gape => "large items need large mouths",
            Self::Masking => "feed of its size hides a hookbait",
            Self::Richness => "a pinch of feed is worth little notice",
            Self::NearSmell => "near smell leads to a pile",
            Self::ScentArousal => "fish stay longer where they smell feed",
            Self::Dusk => "carp are keener as the light goes",
            Self::Ripples => "ripples hide fish from above",
            Self::Clarity => "clear water shows bait from farther",
            Self::OpenPeg => "fish come from and go to the rest of the lake",
            Self::Slowness => "fish are slower in the cold",
            Self::Company => "fish that feed draw others",
            Self::SignalLearning => "fish learn what the sound of feed is worth",
            Self::Habits => "fish differ in how readily they come",
            Self::Return => "fish turn back to where they fed well",
            Self::Locating => "sounds are located roughly, trails are lost",
            Self::Disappointment => "a line that was given up is left alone",
            Self::Drift => "wind and currents carry scent",
            Self::OpeningByLoad => "a larger load takes longer to open",
            Self::EndTackle => "fish shy from strong tackle and are lost on fine",
        }
    }

    /// Rows of the books, by book and name, with values at which it has no effect.
    fn rows_without(self) -> &'static [(&'static str, &'static str, f64)] {
        match self {
            Self::ExposedPlaces => {
                &[("fish", "cover_scale_m", BEYOND_ALL), ("fish", "exposure_weight", 0.0)]
            }
            Self::RememberedFright => {
                &[("fish", "fright_shuns", 0.0), ("fish", "fright_wariness", 0.0)]
            }
            Self::SharedFright => &[("fish", "flight_spreads", 0.0), ("fish", "fright_seen", 0.0)],
            Self::LostFish => {
                &[("fish", "lost_fish_factor", 1.0), ("fish", "lost_fish_alarm", 0.0)]
            }
            Self::Fights => {
                &[("fish", "fight_splash_share", TINY), ("fish", "fight_disturbs", 0.0)]
            }
            Self::Captures => {
                &[("fish", "own_capture_lesson", 0.0), ("fish", "seen_capture_lesson", 0.0)]
            }
            Self::Gape => &[("fish", "item_limit_gapes", BEYOND_ALL)],
            Self::Masking => &[("fish", "feed_masks", 0.0)],
            Self::Richness => &[("fish", "rich_mouthfuls", TINY)],
            Self::NearSmell => &[("fish", "pile_smell_m", 0.0)],
            Self::ScentArousal => &[("fish", "scent_arousal", 0.0)],
            Self::Dusk => &[("fish", "dusk_motivation", 0.0)],
            Self::Ripples => &[("fish", "ripple_hides", 0.0)],
            Self::Clarity => &[("fish", "sight_clarity_power", 0.0)],
            Self::OpenPeg => &[("fish", "passing_share", 0.0)],
            Self::Slowness => &[("fish", "vigour_q10", 1.0)],
            Self::Company => {
                &[("fish", "company_share", 0.0), ("fish", "handling_company_factor", 1.0)]
            }
            Self::SignalLearning => &[("fish", "learning_time_s", BEYOND_ALL)],
            Self::Habits => &[("fish", "habit_cv", 0.0)],
            Self::Return => &[("fish", "return_share", 0.0)],
            Self::Locating => &[("fish", "locating_error", 0.0), ("fish", "trail_loss_per_m", 0.0)],
            Self::Disappointment => &[("fish", "disappointment_s", TINY)],
            Self::Drift => {
                &[("water", "surface_drift_share", 0.0), ("water", "calm_current_m_s", 0.0)]
            }
            Self::OpeningByLoad => &[("bait", "opening_load_exponent", 0.0)],
            Self::EndTackle => &[
                ("fish", "line_shyness", 0.0),
                ("fish", "hook_shyness", 0.0),
                ("angler", "line_strain_per_kg", 0.0),
                ("angler", "hook_strain_per_kg", 0.0),
                ("angler", "fight_line_power", 0.0),
            ],
        }
    }
}

impl Scenario {
    /// Switches a mechanism of the model off, on every day.
    ///
    /// # Panics
    ///
    /// If a mechanism names a row that no book has; a test switches each of them off.
    pub fn switch_off(&mut self, mechanism: Mechanism) {
        self.fix_rows(mechanism.rows_without());
    }

    /// The mechanisms that can act in this scenario: line and hook only where it states one.
    pub fn mechanisms(&self) -> impl Iterator<Item = Mechanism> {
        let states_end_tackle = self.states_end_tackle();
        Mechanism::ALL
            .into_iter()
            .filter(move |&mechanism| mechanism != Mechanism::EndTackle || states_end_tackle)
    }

    /// Fixes rows, given by book and name, at values that may be outside their ranges.
    pub(super) fn fix_rows(&mut self, rows: &[(&str, &str, f64)]) {
        for &(book, row, value) in rows {
            let book = self.books.book_mut(book).expect("there is such a book");
            book.fix_beyond_range(row, value);
        }
    }
}

//! Controls for trying out a scenario: settings of its plans and its water, and the values each may take.

use crate::params::DailyDistribution;
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::read::{ScenarioSource, value_table};
use crate::scenario::schema::{
    ChoiceKeys, FullKey, KeyPath, KeySpec, Kind, Referent, plan as keys, read_quantity, shoal,
    water,
};
use crate::scenario::values::{SiValue, ValueTable};

/// One value that a control can have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ControlChoice {
    /// The value as it is written after `KEY=`. `None` leaves what the file says.
    pub written: Option<String>,
    /// The value as it is shown.
    pub shown: String,
}

/// One setting that can be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScenarioControl {
    /// The plan it belongs to. `None` for the water and its fish.
    pub plan: Option<String>,
    /// Its dotted key.
    pub key: String,
    /// Its name.
    pub name: String,
    /// One sentence from the table of keys.
    pub description: String,
    /// Whether its values are in ascending order, rather than a choice of names.
    pub is_ordered: bool,
    /// The values it can have.
    pub choices: Vec<ControlChoice>,
    /// The index of the value it has now.
    pub selected: usize,
}

/// A choice of a plan with its name and the quantities it may take, separated by commas; empty for a choice of names.
struct ChoiceControl {
    key: fn(&ChoiceKeys) -> KeySpec,
    name: &'static str,
    steps: &'static str,
}

/// The choices of a plan, the most important first.
const CHOICE_CONTROLS: [ChoiceControl; 10] = [
    ChoiceControl { key: |keys| keys.line.spec(), name: "line", steps: "" },
    ChoiceControl {
        key: |keys| keys.recast.spec(),
        name: "recast after",
        steps: "30 s, 45 s, 1 min, 1 min 30 s, 2 min, 2 min 30 s, 3 min, 4 min, 5 min, 6 min, 8 min, \
                10 min, 12 min, 15 min, 20 min, 30 min",
    },
    ChoiceControl {
        key: |keys| keys.load.spec(),
        name: "bait a cast",
        steps: "0 g, 5 g, 8 g, 12 g, 18 g, 25 g, 35 g, 50 g, 70 g, 100 g, 150 g",
    },
    ChoiceControl { key: |keys| keys.bait.spec(), name: "bait", steps: "" },
    ChoiceControl { key: |keys| keys.hookbait.spec(), name: "hookbait", steps: "" },
    ChoiceControl { key: |keys| keys.load_style.spec(), name: "load style", steps: "" },
    ChoiceControl {
        key: |keys| keys.squeeze.spec(),
        name: "pressed",
        steps: "0.5, 1, 1.5, 2, 3, 5",
    },
    ChoiceControl {
        key: |keys| keys.feeder.spec(),
        name: "feeder",
        steps: "10 g, 20 g, 30 g, 40 g, 60 g, 80 g",
    },
    ChoiceControl {
        key: |keys| keys.line_strength.spec(),
        name: "line strength",
        steps: "2 lb, 3 lb, 4 lb, 5 lb, 6 lb, 8 lb, 10 lb, 12 lb, 15 lb",
    },
    ChoiceControl { key: |keys| keys.hook.spec(), name: "hook", steps: "" },
];

const FEED_AMOUNTS: &str = "0 g, 2 g, 4 g, 6 g, 8 g, 10 g, 15 g, 20 g, 30 g, 50 g, 80 g, 120 g";
const FEED_INTERVALS: &str =
    "30 s, 1 min, 1 min 30 s, 2 min, 3 min, 4 min, 5 min, 6 min, 8 min, 10 min, 15 min, 20 min";
const PHASE_ENDS: &str = "30 min, 1 h, 1 h 30 min, 2 h, 2 h 30 min, 3 h, 3 h 30 min, 4 h, \
                          4 h 30 min, 5 h, 5 h 30 min, 6 h, 7 h, 8 h";
const FISH_COUNTS: &str = "5, 10, 20, 30, 40, 60, 80, 120, 200";
const STOCKS: &str =
    "100 kg/ha, 200 kg/ha, 400 kg/ha, 600 kg/ha, 1000 kg/ha, 2000 kg/ha, 4000 kg/ha";
const TEMPERATURES: &str = "4 C, 6 C, 8 C, 10 C, 12 C, 14 C, 16 C, 18 C, 20 C, 22 C, 24 C";
const WINDS: &str = "0 km/h, 5 km/h, 10 km/h, 15 km/h, 20 km/h, 30 km/h, 40 km/h";

/// Every control of a scenario: those of each plan, phase by phase, then those of the water.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn controls(written: &ScenarioSource) -> Result<Vec<ScenarioControl>, Diagnostics> {
    let mut faults = Diagnostics::default();
    let table = value_table(&written.text, &[], &mut faults).filter(|_| faults.is_empty());
    let Some(table) = table else { return Err(faults.in_file(&format!("{}.toml", written.name))) };
    let builder = ControlBuilder { table: &table };
    let mut controls = Vec::new();
    for plan in table.names(keys::PLANS, &[]) {
        controls.extend(builder.plan(plan));
    }
    for shoal in table.names(shoal::SHOALS, &[]) {
        let (count, stock) = (shoal::COUNT.spec().at(&[shoal]), shoal::STOCK.spec().at(&[shoal]));
        let (key, words, steps) = if table.has(&stock) {
            (stock, "stock", STOCKS)
        } else {
            (count, "fish in reach", FISH_COUNTS)
        };
        let name = format!("{}: {words}", shown_name(shoal));
        controls.extend(builder.control(None, &[key], &name, steps));
    }
    let temperature = water::TEMPERATURE.spec().at(&[]);
    controls.extend(builder.control(None, &[temperature], "water temperature", TEMPERATURES));
    controls.extend(builder.control(None, &[water::WIND.spec().at(&[])], "wind", WINDS));
    Ok(controls)
}

/// A name for people: `island edge` for `island-edge`.
fn shown_name(name: &str) -> String {
    name.replace(['-', '_'], " ")
}

struct ControlBuilder<'a> {
    table: &'a ValueTable,
}

impl ControlBuilder<'_> {
    /// The controls of one plan: those of each phase, then those of its loose feed.
    fn plan(&self, plan: &str) -> Vec<ScenarioControl> {
        let mut controls = Vec::new();
        let phases = self.table.names(keys::PHASES, &[plan]);
        if phases.is_empty() {
            for choice in &CHOICE_CONTROLS {
                let key = (choice.key)(&keys::CHOICES).at(&[plan]);
                controls.extend(self.control(Some(plan), &[key], choice.name, choice.steps));
            }
        }
        for phase in phases {
            controls.extend(self.phase(plan, phase));
        }
        for line in self.table.names(water::LINES, &[]) {
            controls.extend(self.feed(plan, line));
        }
        controls
    }

    /// The controls of one phase; a choice that it leaves out is the plan's.
    fn phase(&self, plan: &str, phase: &str) -> Vec<ScenarioControl> {
        let mut controls = Vec::new();
        let until = keys::PHASE_UNTIL.spec().at(&[plan, phase]);
        if self.table.has(&until) {
            let name = format!("phase {phase}: until");
            controls.extend(self.control(Some(plan), &[until], &name, PHASE_ENDS));
        }
        for choice in &CHOICE_CONTROLS {
            let own = (choice.key)(&keys::PHASE_CHOICES).at(&[plan, phase]);
            let from_plan = (choice.key)(&keys::CHOICES).at(&[plan]);
            let name = format!("phase {phase}: {}", choice.name);
            controls.extend(self.control(Some(plan), &[own, from_plan], &name, choice.steps));
        }
        controls
    }

    /// The controls of the loose feed on one line; if nothing is fed, only the amount, which is then 0 g.
    fn feed(&self, plan: &str, line: &str) -> Vec<ScenarioControl> {
        let path = &[plan, line];
        let shown_line = shown_name(line);
        let amount = keys::FEED.amount.spec().at(path);
        let name = format!("loose feed, {shown_line}");
        let mut amount = self.control(Some(plan), &[amount], &name, FEED_AMOUNTS);
        let is_none = |choice: &ControlChoice| choice.shown == "0 g";
        let is_fed = self.table.has_table(&keys::FEEDS.entry(path));
        if let (Some(control), false) = (&mut amount, is_fed) {
            control.selected = control.choices.iter().position(is_none).unwrap_or(control.selected);
        }
        let is_thrown =
            amount.as_ref().is_some_and(|control| !is_none(&control.choices[control.selected]));
        let mut controls: Vec<ScenarioControl> = amount.into_iter().collect();
        if is_thrown {
            let every = keys::FEED.every.spec().at(path);
            let name = format!("feed {shown_line} every");
            controls.extend(self.control(Some(plan), &[every], &name, FEED_INTERVALS));
            let bait = keys::FEED.bait.spec().at(path);
            let on_feeder = keys::CHOICES.bait.spec().at(&[plan]);
            let name = format!("feed on {shown_line}");
            controls.extend(self.control(Some(plan), &[bait, on_feeder], &name, ""));
        }
        controls
    }

    /// One control. It sets the first of `keys`; the value it has now is that of the first key that is written,
    /// otherwise the default of the last.
    fn control(
        &self,
        plan: Option<&str>,
        keys: &[KeyPath<()>],
        name: &str,
        steps: &str,
    ) -> Option<ScenarioControl> {
        let key = keys.first()?;
        let spec = key.spec();
        let source = keys.iter().find(|key| self.table.has(*key)).or(keys.last())?;
        let value = self.table.any_value(source);
        let (choices, at) = match spec.kind {
            Kind::Choice(words) => name_choices(words, Some(value?)),
            Kind::NameOf(referent) => name_choices(&self.table.names_of(referent), value),
            Kind::Quantity(_) | Kind::Number | Kind::Whole => quantity_choices(spec, steps, value?),
            Kind::TimeOr(_) | Kind::Text | Kind::Flag => return None,
        };
        let is_line = spec.kind == Kind::NameOf(Referent::Line);
        (choices.len() > 1 || is_line).then(|| ScenarioControl {
            plan: plan.map(str::to_owned),
            key: key.dotted().to_owned(),
            name: name.to_owned(),
            description: spec.description.to_owned(),
            is_ordered: spec.kind.is_numeric(),
            choices,
            selected: at,
        })
    }
}

/// One stop for each name, and the index of the one that is the value now.
fn name_choices(names: &[&str], value: Option<SiValue>) -> (Vec<ControlChoice>, usize) {
    let now = names.iter().position(|name| value == Some(SiValue::Text((*name).to_owned())));
    let choices = names
        .iter()
        .map(|name| ControlChoice { written: Some((*name).to_owned()), shown: shown_name(name) });
    (choices.collect(), now.unwrap_or(0))
}

/// The steps within a key's range, with the value it has now among them, and the index of that value.
fn quantity_choices(key: &KeySpec, steps: &str, value: SiValue) -> (Vec<ControlChoice>, usize) {
    let si = |text: &str| match key.kind.dimension() {
        Some(dimension) => read_quantity(text, dimension).ok(),
        None => text.parse().ok(),
    };
    let steps = steps.split(", ").filter_map(|text| {
        let choice = ControlChoice { written: Some(text.to_owned()), shown: text.to_owned() };
        Some((si(text)?, choice))
    });
    let mut choices: Vec<(f64, ControlChoice)> =
        steps.filter(|(si, _)| (key.range.0..=key.range.1).contains(si)).collect();
    let now_si = match value {
        SiValue::Number(si) | SiValue::Spread(DailyDistribution::Fixed(si)) => si,
        SiValue::Spread(DailyDistribution::Uniform { low, high }) => {
            let shown = format!("{} to {}", key.kind.show(low), key.kind.show(high));
            return spread_choices(choices, shown);
        }
        SiValue::Spread(DailyDistribution::LogNormal { mean, .. }) => {
            return spread_choices(choices, format!("about {}", key.kind.show(mean)));
        }
        SiValue::Text(_) | SiValue::Flag(_) => return (Vec::new(), 0),
    };
    let is_now = |si: f64| (si - now_si).abs() <= 1e-9 * now_si.abs().max(1.0);
    if !choices.iter().any(|(si, _)| is_now(*si)) {
        let shown = key.kind.show(now_si);
        choices.push((now_si, ControlChoice { written: Some(shown.clone()), shown }));
    }
    choices.sort_by(|a, b| a.0.total_cmp(&b.0));
    let now = choices.iter().position(|(si, _)| is_now(*si)).unwrap_or(0);
    (choices.into_iter().map(|(_, choice)| choice).collect(), now)
}

/// The stops of a value that differs from day to day: the first leaves it as it is.
fn spread_choices(
    choices: Vec<(f64, ControlChoice)>,
    shown: String,
) -> (Vec<ControlChoice>, usize) {
    let unchanged = ControlChoice { written: None, shown };
    (std::iter::once(unchanged).chain(choices.into_iter().map(|(_, choice)| choice)).collect(), 0)
}

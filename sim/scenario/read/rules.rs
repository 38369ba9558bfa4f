//! The rules of a plan, read from its tables.

use super::clock::{clock, clock_time_s};
use crate::angler::{
    Condition, EndTackle, FeedChange, LighterFish, PlanChange, PlanRule, RuleDuration, Rules,
    SkyTime, TackleChange,
};
use crate::bait::LoadStyle;
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::schema::{Key, plan as plan_keys, rule as keys, session};
use crate::scenario::values::{Names, ValueTable, default_of};
use crate::water::LineId;

/// The rules of one plan, in the order of the file; `phase_starts_s` is when its phases begin as written.
pub(super) fn rules(
    table: &ValueTable,
    names: &Names<'_>,
    plan: &str,
    phase_starts_s: Vec<f64>,
) -> Rules {
    let list = table.names(keys::RULES, &[plan]).into_iter();
    Rules {
        list: list.map(|name| RuleReader { table, names, plan, name }.rule()).collect(),
        target_kg: table.given(&keys::TARGET.at(&[plan])),
        phase_starts_s,
    }
}

/// Reads one rule.
struct RuleReader<'a> {
    table: &'a ValueTable,
    names: &'a Names<'a>,
    plan: &'a str,
    name: &'a str,
}

impl RuleReader<'_> {
    fn rule(&self) -> PlanRule {
        let lasts = match self.number(keys::LASTS) {
            None => RuleDuration::Phase,
            Some(time_s) if time_s.is_finite() => RuleDuration::For(time_s),
            Some(_) => RuleDuration::Session,
        };
        PlanRule {
            name: self.name.to_owned(),
            condition: self.when(),
            change: self.change(),
            lasts,
            again_after_s: self.table.value(&keys::AGAIN_AFTER.at(&[self.plan, self.name])),
            max_firings: self.number(keys::AT_MOST).map(|count| count as u32),
        }
    }

    fn when(&self) -> Condition {
        let count = |key| self.number(key).map(|count| count as usize);
        Condition {
            on_line: self.line(keys::ON_LINE),
            no_bite_for_s: self.number(keys::NO_BITE_FOR),
            min_bites: count(keys::BITES_AT_LEAST),
            max_bites: count(keys::BITES_AT_MOST),
            min_shows: count(keys::FISH_SHOW),
            show_line: self.line(keys::OVER),
            min_line_bites: count(keys::LINE_BITES),
            min_lost: count(keys::FISH_LOST),
            min_missed: count(keys::BITES_MISSED),
            min_missed_in_a_row: count(keys::MISSED_IN_A_ROW),
            min_landed: count(keys::LANDED_AT_LEAST),
            max_landed: count(keys::LANDED_AT_MOST),
            min_foul_hooked: count(keys::FOUL_HOOKED),
            lighter: self.number(keys::FISH_BELOW).map(|below_kg| LighterFish {
                below_kg,
                of_last: self.table.value(&keys::OF_LAST.at(&[self.plan, self.name])) as usize,
            }),
            min_wind_m_s: self.number(keys::WIND_AT_LEAST),
            max_wind_m_s: self.number(keys::WIND_AT_MOST),
            dusk: self.dusk(),
            clock: self.clock(),
            within_s: self.table.value(&keys::WITHIN.at(&[self.plan, self.name])),
            after_s: self.number(keys::AFTER),
            time_left_s: self.number(keys::TIME_LEFT),
            rested_for_s: self.number(keys::RESTED_FOR),
            behind_kg: self.number(keys::BEHIND),
            ahead_kg: self.number(keys::AHEAD),
        }
    }

    /// Time before sunset. `None` if it is not stated, or if there is no sunset.
    fn dusk(&self) -> Option<SkyTime> {
        let before_s = self.number(keys::TO_SUNSET)?;
        // What is wrong with the date is reported where the session is read.
        let clock = clock(self.table, &mut Diagnostics::default())?;
        let [_, sunset_s] = clock.day.sunrise_and_sunset_s()?;
        Some(SkyTime { stated_s: before_s, since_start_s: sunset_s - before_s - clock.start_s })
    }

    /// Clock time. `None` if it is not stated, or cannot be read.
    fn clock(&self) -> Option<SkyTime> {
        let stated = self.table.given(&keys::CLOCK_FROM.at(&[self.plan, self.name]))?;
        let stated_s = clock_time_s(&stated)?;
        let start_s = clock_time_s(&self.table.value(&session::START))?;
        let since_start_s = (stated_s - start_s).rem_euclid(86_400.0);
        Some(SkyTime { stated_s, since_start_s })
    }

    fn change(&self) -> PlanChange {
        let path = &[self.plan, self.name];
        let choices = keys::CHANGES;
        let style = self.table.given(&choices.load_style.at(path));
        let recipe = self.table.given(&choices.bait.at(path));
        let hookbait = self.table.given(&choices.hookbait.at(path));
        PlanChange {
            tackle: TackleChange {
                line: self.line(choices.line),
                recast_s: self.number(choices.recast),
                load_kg: self.number(choices.load),
                feeder_kg: self.number(choices.feeder),
                recipe: recipe.and_then(|name| self.names.recipe(&name)),
                buried: style.map(|style| style == LoadStyle::Buried),
                compression: self.number(choices.squeeze),
                hookbait: hookbait.and_then(|name| self.names.hookbait(&name)),
                end: EndTackle {
                    line_strength_kg: self.number(choices.line_strength),
                    hook: self.table.given(&choices.hook.at(path)),
                },
            },
            feeds: self.feeds(),
            // On a line not fed before, the defaults of any plan's feed hold.
            new_feed: (default_of(plan_keys::FEED.every), default_of(plan_keys::FEED.amount)),
        }
    }

    fn feeds(&self) -> Vec<FeedChange> {
        let feed = |name: &str| {
            let path = &[self.plan, self.name, name];
            let recipe = self.table.given(&keys::FEED.bait.at(path));
            Some(FeedChange {
                line: self.names.line(name)?,
                recipe: recipe.and_then(|name| self.names.recipe(&name)),
                every_s: self.table.given(&keys::FEED.every.at(path)),
                amount_kg: self.table.given(&keys::FEED.amount.at(path)),
                method: self.table.given(&keys::FEED.by.at(path)),
            })
        };
        // Unknown names were reported earlier.
        let names = self.table.names(keys::RULE_FEEDS, &[self.plan, self.name]);
        names.into_iter().filter_map(feed).collect()
    }

    fn number(&self, key: Key<f64>) -> Option<f64> {
        self.table.given(&key.at(&[self.plan, self.name]))
    }

    fn line(&self, key: Key<String>) -> Option<LineId> {
        self.names.line(&self.table.given(&key.at(&[self.plan, self.name]))?)
    }
}

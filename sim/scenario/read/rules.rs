//! Rules of a plan, read from its tables.

use crate::angler::{Change, FeedChange, Lasts, Rule, Rules, When};
use crate::scenario::values::{Names, ValueTable};

/// The rules of one plan, in the order of the file; `phase_starts_s` is when its phases begin as written.
pub(crate) fn rules(
    sheet: &ValueTable,
    tackle: &Names<'_>,
    plan: &str,
    phase_starts_s: Vec<f64>,
) -> Rules {
    let above = format!("{plan}.rule");
    let names = sheet.names(&above);
    let list = names.into_iter().map(|name| {
        let table = format!("{above}.{name}");
        RuleReader { sheet, tackle, plan, table: &table }.rule(name)
    });
    Rules {
        list: list.collect(),
        target_kg: sheet.given_number(&format!("{plan}.target")),
        phase_starts_s,
    }
}

/// One rule being read.
struct RuleReader<'a> {
    sheet: &'a ValueTable,
    tackle: &'a Names<'a>,
    plan: &'a str,
    table: &'a str,
}

impl RuleReader<'_> {
    fn rule(&self, name: &str) -> Rule {
        let lasts = match self.number("lasts") {
            None => Lasts::Phase,
            Some(time_s) if time_s.is_finite() => Lasts::For(time_s),
            Some(_) => Lasts::Session,
        };
        Rule {
            name: name.to_owned(),
            when: self.when(),
            change: self.change(),
            lasts,
            again_after_s: self.sheet.number(&self.key("again_after")),
            at_most: self.number("at_most").map(|count| count as u32),
        }
    }

    fn when(&self) -> When {
        let count = |word: &str| self.number(word).map(|count| count as usize);
        When {
            on_line: self.line("on_line"),
            no_bite_for_s: self.number("no_bite_for"),
            bites_at_least: count("bites_at_least"),
            bites_at_most: count("bites_at_most"),
            fish_show: count("fish_show"),
            over: self.line("over"),
            line_bites: count("line_bites"),
            within_s: self.sheet.number(&self.key("within")),
            after_s: self.number("after"),
            time_left_s: self.number("time_left"),
            rested_for_s: self.number("rested_for"),
            behind_kg: self.number("behind"),
            ahead_kg: self.number("ahead"),
        }
    }

    fn change(&self) -> Change {
        let style = self.sheet.given_text(&self.key("load_style"));
        let hookbait = self.sheet.given_text(&self.key("hookbait"));
        let hookbaits = &self.tackle.hookbaits;
        Change {
            line: self.line("line"),
            recast_s: self.number("recast"),
            load_kg: self.number("load"),
            feeder_kg: self.number("feeder"),
            recipe: self.recipe("bait"),
            buried: style.map(|style| style == "buried"),
            squeeze: self.number("squeeze"),
            hookbait: hookbait.and_then(|name| hookbaits.iter().position(|bait| bait.name == name)),
            feeds: self.feeds(),
            new_feed: (self.new_feed("every"), self.new_feed("amount")),
        }
    }

    fn feeds(&self) -> Vec<FeedChange> {
        let names = self.sheet.names(&self.key("feed"));
        let feed = |name: &str| {
            let line = self.tackle.lines.iter().position(|line| line.name == name)?;
            Some(FeedChange {
                line,
                recipe: self.recipe(&format!("feed.{name}.bait")),
                every_s: self.number(&format!("feed.{name}.every")),
                amount_kg: self.number(&format!("feed.{name}.amount")),
            })
        };
        // A name of nothing has been told already.
        names.into_iter().filter_map(feed).collect()
    }

    /// What holds where a line is fed that was not: the default of any plan's feed.
    fn new_feed(&self, word: &str) -> f64 {
        let line = self.tackle.lines.first().map_or("any", |line| line.name.as_str());
        self.sheet.default_number(&format!("{}.feed.{line}.{word}", self.plan))
    }

    fn key(&self, word: &str) -> String {
        format!("{}.{word}", self.table)
    }

    fn number(&self, word: &str) -> Option<f64> {
        self.sheet.given_number(&self.key(word))
    }

    fn line(&self, word: &str) -> Option<usize> {
        let name = self.sheet.given_text(&self.key(word))?;
        self.tackle.lines.iter().position(|line| line.name == name)
    }

    fn recipe(&self, word: &str) -> Option<usize> {
        let name = self.sheet.given_text(&self.key(word))?;
        self.tackle.recipes.iter().position(|recipe| recipe.name == name)
    }
}

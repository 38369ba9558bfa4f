//! Scratch: a particle filter over the session so far.

use super::forecast::{Forecast, SimulatedRest};
use super::run::NowStudy;
use super::so_far::until;
use super::ways::WayKind;
use crate::catch_log::LoggedSession;
use crate::numerics::{exp, square};
use crate::session::{Day, PausedSession};
use crate::study::doubtful_day::doubtful_day;
use crate::study::fit::LogWriter;

/// What one method foretells.
#[derive(Clone, Debug)]
pub struct Foretold {
    pub final_kg: f64,
    pub low80_kg: f64,
    pub high80_kg: f64,
    pub lead_kg: f64,
    pub lead_se_kg: f64,
    pub effective: f64,
}

const GRAM_KG: f64 = 1e-3;

/// What happened in a stretch: bites, fish, weight on each line, as roots.
fn stretch(session: &LoggedSession, lines: &[String], from_s: f64, to_s: f64) -> Vec<f64> {
    let mut values = Vec::new();
    for line in lines {
        let (mut bites, mut kg) = (0.0, 0.0);
        for cast in session.casts.iter().filter(|cast| cast.line == *line && cast.has_bite()) {
            let Some(end) = cast.end.as_ref() else { continue };
            if end.at_s > from_s && end.at_s <= to_s {
                bites += 1.0;
                kg += end.catch.as_ref().and_then(|of| of.weight_kg).unwrap_or(0.0);
            }
        }
        values.push(f64::sqrt(bites + 0.375));
        values.push(f64::sqrt(kg));
    }
    values
}

impl NowStudy<'_> {
    /// Keeps some ways only.
    pub fn keep_ways(&mut self, count: usize) {
        let is_line = |kind: &WayKind| matches!(kind, WayKind::Line(_));
        let has_lines = self.ways.iter().any(|way| is_line(&way.kind));
        self.ways.retain(|way| {
            way.kind == WayKind::AsPlanned
                || if has_lines { is_line(&way.kind) } else { way.kind == WayKind::RecastLater }
        });
        self.ways.truncate(count);
    }

    pub fn ways(&self) -> &[super::ways::WayToGoOn] {
        &self.ways
    }

    /// Today's method.
    pub fn foretold_today(&self, rests: &[SimulatedRest]) -> Option<Foretold> {
        self.adjusted(rests, 0.5)
    }

    pub fn adjusted(&self, rests: &[SimulatedRest], share: f64) -> Option<Foretold> {
        let (observed, weight_kg) = self.observed();
        let forecast = Forecast::with_share(rests, &self.ways, &observed, weight_kg, share)?;
        let ways = forecast.ways(&self.spec.scenario.aims);
        Some(Foretold {
            final_kg: ways[0].final_kg,
            low80_kg: ways[0].low80_kg,
            high80_kg: ways[0].high80_kg,
            lead_kg: ways[1].ahead_of_plan_kg,
            lead_se_kg: ways[1].ahead_se_kg,
            effective: forecast.effective(),
        })
    }

    /// The filter: `kept` is the share of particles that all checkpoints together keep.
    pub fn filtered(&self, count: u32, every_s: f64, kept: f64) -> Option<[Foretold; 2]> {
        let spec = &self.spec;
        let scenario = spec.scenario;
        let start_s = spec.past.start_s;
        let steps = (self.at_s / every_s).ceil().max(1.0);
        let step_share = kept.powf(1.0 / steps);
        let days: Vec<Day> =
            (1..=count).map(|number| doubtful_day(scenario, spec.seed, number, number)).collect();
        let n = days.len();
        let mut day_of: Vec<usize> = (0..n).collect();
        let blank = |day| LogWriter::new(scenario, &self.past, day, start_s, spec.log.time_unit_s);
        let mut all_writers: Vec<Vec<LogWriter<'_>>> =
            (0..steps as usize).map(|_| days.iter().map(blank).collect()).collect();
        let mut paused: Vec<PausedSession<'_, LogWriter<'_>>> = Vec::new();
        let mut chosen: Vec<usize> = (0..n).collect();
        for (step, writers) in all_writers.iter_mut().enumerate() {
            let from_s = self.at_s * step as f64 / steps;
            let to_s = self.at_s * (step + 1) as f64 / steps;
            paused = if step == 0 {
                let first = days.iter().zip(writers);
                first
                    .map(|(day, writer)| {
                        PausedSession::part_way(scenario, &self.past, day, to_s, writer)
                    })
                    .collect()
            } else {
                chosen
                    .iter()
                    .zip(writers)
                    .zip(1_u64..)
                    .map(|((&parent, writer), number)| {
                        *writer = paused[parent].observer().clone();
                        paused[parent].go_on_to(to_s, step as u64 * 10_000 + number, writer)
                    })
                    .collect()
            };
            let seen = |session: &LoggedSession| {
                stretch(session, &self.lines, start_s + from_s, start_s + to_s)
            };
            let observed = seen(&until(&self.today, start_s + to_s));
            let rows: Vec<Vec<f64>> =
                paused.iter().map(|of| seen(&of.observer().clone().into_session(to_s))).collect();
            let weights = kernel(&rows, &observed, step_share);
            chosen = resampled(&weights);
            day_of = chosen.iter().map(|&place| day_of[place]).collect();
        }
        let mut rests = Vec::new();
        for (number, &place) in (1_u64..).zip(&chosen) {
            let of = &paused[place];
            let before_g = of.outcome().weight_g;
            let gains_kg: Vec<f64> = self
                .ways
                .iter()
                .map(|way| {
                    let after = of.go_on_by_chance(&way.plan, way.winds_in_now, 900_000 + number);
                    (after.weight_g - before_g) as f64 * GRAM_KG
                })
                .collect();
            let session = of.observer().clone().into_session(self.at_s);
            rests.push(SimulatedRest {
                so_far: self.comparable(&session),
                gains_kg,
                next_fish_s: None,
                bites: 0.0,
                offered_kg: number as f64,
            });
        }
        day_of.sort_unstable();
        day_of.dedup();
        let (_, weight_kg) = self.observed();
        let mut finals: Vec<f64> = rests.iter().map(|of| weight_kg + of.gains_kg[0]).collect();
        let mean = |values: &mut dyn Iterator<Item = f64>| values.sum::<f64>() / n as f64;
        let final_kg = mean(&mut finals.iter().copied());
        let lead_kg = mean(&mut rests.iter().map(|of| of.gains_kg[1] - of.gains_kg[0]));
        let variance =
            mean(&mut rests.iter().map(|of| square(of.gains_kg[1] - of.gains_kg[0] - lead_kg)));
        finals.sort_by(f64::total_cmp);
        let plain = Foretold {
            final_kg,
            low80_kg: finals[n / 10],
            high80_kg: finals[n - 1 - n / 10],
            lead_kg,
            lead_se_kg: (variance / n as f64).sqrt(),
            effective: day_of.len() as f64,
        };
        let adjusted = self.adjusted(&rests, 0.999).unwrap_or(plain.clone());
        Some([plain, adjusted])
    }
}

/// Gaussian weights whose effective number is a share of all.
fn kernel(rows: &[Vec<f64>], observed: &[f64], share: f64) -> Vec<f64> {
    let n = rows.len() as f64;
    let scales: Vec<f64> = (0..observed.len())
        .map(|at| {
            let mean = rows.iter().map(|row| row[at]).sum::<f64>() / n;
            (rows.iter().map(|row| square(row[at] - mean)).sum::<f64>() / n).sqrt()
        })
        .collect();
    let far: Vec<f64> = rows
        .iter()
        .map(|row| {
            let parts = row.iter().zip(observed).zip(&scales).filter(|(_, scale)| **scale > 0.0);
            parts.map(|((x, seen), scale)| square((x - seen) / scale)).sum::<f64>()
        })
        .collect();
    let nearest = far.iter().copied().fold(f64::INFINITY, f64::min);
    let weights = |sharp: f64| -> Vec<f64> {
        let all: Vec<f64> = far.iter().map(|far| exp(-sharp * (far - nearest))).collect();
        let total: f64 = all.iter().sum();
        all.into_iter().map(|weight| weight / total).collect()
    };
    let (mut low, mut high) = (1e-6_f64, 1e4_f64);
    for _ in 0..50 {
        let middle = (low * high).sqrt();
        let effective = 1.0 / weights(middle).iter().map(|weight| weight * weight).sum::<f64>();
        if effective > share * n { low = middle } else { high = middle }
    }
    weights((low * high).sqrt())
}

fn resampled(weights: &[f64]) -> Vec<usize> {
    let count = weights.len();
    let (mut chosen, mut sum) = (Vec::new(), 0.0);
    for (place, weight) in weights.iter().enumerate() {
        sum += weight;
        while chosen.len() < count && (chosen.len() as f64 + 0.5) / (count as f64) < sum {
            chosen.push(place);
        }
    }
    chosen.resize(count, count - 1);
    chosen
}

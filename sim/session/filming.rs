//! Writes a session down while it is fished.
//!
//! It looks at the world after each event and changes nothing; a session that is not filmed pays nothing for it.

use super::day::Day;
use super::event::Event;
use super::film::{Film, Handful, Hands, Hook, LineFilm, Lying, Move, Release, Rig, Tackle, Why};
use super::rod::{Activity, HookIs, RigAt};
use super::swim::Swim;
use super::world::World;
use crate::angler::Plan;
use crate::bait::LetGo;
use crate::engine::{Agenda, Process, Record, Time, run};
use crate::fish::{Leg, State, company, smelt};
use crate::scenario::Scenario;

/// Least share by which bait on the bed must have changed to be written down anew.
const BED_CHANGE: f64 = 0.02;
/// Matter hanging or lying of less than this is nothing [kg].
const NOTHING_KG: f64 = 1e-5;
/// Scent let go of less than this is nothing [mol].
const NOTHING_MOL: f64 = 1e-9;

/// Fishes one plan on one day and writes it down; none where that takes more than `most_rows` rows.
///
/// What it comes to is what [`fish_session`](super::fish_session) comes to.
#[must_use]
pub fn film_session(scenario: &Scenario, plan: &Plan, day: &Day, most_rows: usize) -> Option<Film> {
    let mut seen = Record::default();
    let mut world = World::new(scenario, plan, day, &mut seen);
    let mut agenda = Agenda::new();
    world.begin(&mut agenda);
    let mut filming = Filming::new(world, most_rows);
    filming.looks(None);
    let end = filming.world.end;
    let happened = run(&mut filming, &mut agenda, end);
    filming.puffs_that_were_begun();
    let Filming { world, mut film, full, .. } = filming;
    film.outcome = world.outcome;
    film.outcome.swim.events = happened;
    (!full).then_some(film)
}

/// What is remembered of a fish between two looks.
type Last = (Leg, State);

struct Filming<'a> {
    world: World<'a, Record<Event>>,
    film: Film,
    last: Vec<Option<Last>>,
    /// Scent let go at each line in whole puffs, and since when the next is being let go.
    scent: Vec<(LetGo, Option<Time>)>,
    most_rows: usize,
    full: bool,
}

impl Process for Filming<'_> {
    type Event = Event;

    fn happen(&mut self, now: Time, event: Event, agenda: &mut Agenda<Event>) {
        self.world.happen(now, event, agenda);
        if self.full {
            self.world.watch.seen.clear();
            return;
        }
        self.looks(Some(event));
        self.full = self.film.rows() > self.most_rows;
    }
}

impl<'a> Filming<'a> {
    fn new(world: World<'a, Record<Event>>, most_rows: usize) -> Self {
        let line = |swim: &Swim| LineFilm {
            flow_m_s: swim.plume.water().flow_m_s,
            diffusivity_m2_s: swim.plume.water().diffusivity_m2_s,
            loss_per_s: swim.plume.water().loss_per_s,
            layer_m: swim.plume.water().layer_m,
            ..LineFilm::default()
        };
        let film = Film { lines: world.swims.iter().map(line).collect(), ..Film::default() };
        let (fish, lines) = (world.fish.len(), world.swims.len());
        Self {
            world,
            film,
            last: vec![None; fish],
            scent: vec![(LetGo::default(), None); lines],
            most_rows,
            full: false,
        }
    }

    /// Writes down what has changed since the last look, `by` what was on the agenda.
    fn looks(&mut self, by: Option<Event>) {
        let seen: Vec<Event> = self.world.watch.seen.drain(..).map(|(_, event)| event).collect();
        let at_s = self.world.now.seconds();
        self.looks_at_fish(at_s, by, &seen);
        self.looks_at_tackle(at_s);
        self.looks_at_handfuls(at_s, &seen);
        for line in 0..self.world.swims.len() {
            self.looks_at_line(at_s, line);
        }
        self.film.events.extend(seen.into_iter().map(|event| (at_s, event)));
    }

    /// At the end, bait is at a puff that is not whole.
    fn puffs_that_were_begun(&mut self) {
        let now = self.world.now;
        for (swim, film) in self.world.swims.iter().zip(&mut self.film.lines) {
            if let Some((since, amount_mol)) = swim.plume.given_off(now) {
                let (from_s, at_s) = (since.seconds(), now.seconds());
                film.releases.push(Release { from_s, at_s, amount_mol });
            }
        }
    }

    fn looks_at_fish(&mut self, at_s: f64, by: Option<Event>, seen: &[Event]) {
        for fish in 0..self.last.len() {
            let one = &self.world.fish[fish];
            let present = (one.leg, one.state);
            if self.last[fish] == Some(present) {
                continue;
            }
            let before = self.last[fish].replace(present).map(|(_, state)| state);
            let why = self.why(fish, before, by, seen);
            let one = &self.world.fish[fish];
            self.film.moves.push(Move {
                at_s,
                fish,
                from: one.leg.at(self.world.now),
                to: one.leg.to,
                ends_s: one.leg.ends.seconds().max(at_s),
                state: one.state,
                hunger: one.appetite.hunger(),
                why,
            });
        }
    }

    /// Why a fish does something else now than before.
    fn why(&self, fish: usize, before: Option<State>, by: Option<Event>, seen: &[Event]) -> Why {
        let splash = matches!(by, Some(Event::RigIsCast { .. }));
        let patter = seen.iter().any(|event| matches!(event, Event::LooseFeedThrown { .. }));
        match self.world.fish[fish].state {
            State::Approaching(line) if matches!(by, Some(Event::FishLooks { .. })) => {
                self.noticed(fish, line)
            }
            State::Approaching(_) if splash => Why::Splash,
            State::Approaching(_) if patter => Why::Patter,
            State::Fled if before == Some(State::Hooked) => Why::Hook,
            State::Fled if splash => Why::Splash,
            State::Fled if patter => Why::Patter,
            State::Fled => {
                let took =
                    |event: &Event| matches!(*event, Event::FishTakes { fish: f, .. } if f == fish);
                if seen.iter().any(took) { Why::Hook } else { Why::Fight }
            }
            _ => {
                let left = seen.iter().find_map(|event| match *event {
                    Event::FishLeaves { fish: f, why, .. } if f == fish => Some(why),
                    _ => None,
                });
                left.map_or(Why::OwnWay, Why::Left)
            }
        }
    }

    /// What a fish that looked round noticed of a line, the stronger of two.
    fn noticed(&self, fish: usize, line: usize) -> Why {
        let World { now, day, .. } = self.world;
        let (here, swim) = (self.world.fish[fish].leg.from, &self.world.swims[line]);
        let smells = smelt(swim.plume.concentration_mol_m3(here, now), &day.fish);
        let near = here.squared_distance_m2(swim.at) <= day.fish.sight_m.powi(2);
        let sees = if near { company(swim.eaten_lately(now, day), &day.fish) } else { 0.0 };
        if sees > smells { Why::Company(sees) } else { Why::Scent(smells) }
    }

    fn looks_at_tackle(&mut self, at_s: f64) {
        let (rod, hands) = (&self.world.rod, &self.world.hands);
        let present = Tackle {
            at_s,
            cast: rod.cast,
            line: rod.line,
            place: rod.landed_at,
            rig: match rod.rig {
                RigAt::Ashore => Rig::Ashore,
                RigAt::Sinking => Rig::Sinking,
                RigAt::Bed => Rig::Bed,
                RigAt::Fish(..) => Rig::Playing,
            },
            hook: match rod.hook {
                HookIs::Hidden => Hook::Hidden,
                HookIs::OnPile => Hook::OnPile,
                HookIs::InScatter => Hook::InScatter,
                HookIs::Bare => Hook::Bare,
            },
            hands: match hands.activity {
                Activity::Casting => Hands::Casting,
                Activity::Waiting => Hands::Waiting,
                Activity::Playing => Hands::Playing,
                Activity::Rebaiting => Hands::Rebaiting,
                Activity::Feeding => Hands::Feeding,
                Activity::Other | Activity::Idle => Hands::Other,
            },
        };
        let last = self.film.tackle.last();
        if last.is_none_or(|last| *last != Tackle { at_s: last.at_s, ..present }) {
            self.film.tackle.push(present);
        }
    }

    fn looks_at_handfuls(&mut self, at_s: f64, seen: &[Event]) {
        for event in seen {
            if let (Event::LooseFeedThrown { line, mass_kg }, Some(throw)) =
                (*event, self.world.throws.last())
            {
                let fall_s = throw.falling.fall_s;
                self.film.handfuls.push(Handful { at_s, line, mass_kg, fall_s });
            }
        }
    }

    fn looks_at_line(&mut self, at_s: f64, line: usize) {
        let (now, swim) = (self.world.now, &self.world.swims[line]);
        let film = &mut self.film.lines[line];
        let (before, since) = self.scent[line];
        let let_go = swim.plume.let_go();
        // Fines let go at once, bait on the bed from its last puff on.
        let began_s = since.map_or(at_s, Time::seconds);
        for (from_s, amount_mol) in [
            (at_s, let_go.at_once_mol - before.at_once_mol),
            (began_s, let_go.steadily_mol - before.steadily_mol),
        ] {
            if amount_mol > NOTHING_MOL {
                film.releases.push(Release { from_s, at_s, amount_mol });
            }
        }
        self.scent[line] = (let_go, swim.plume.given_off(now).map(|(since, _)| since));
        let lying = Lying {
            at_s,
            pile_kg: swim.pile.food_kg,
            scatter_kg: swim.scatter.food_kg,
            hanging_kg: swim.hanging_kg(),
        };
        let differs = |a: f64, b: f64| (a - b).abs() > (BED_CHANGE * a.max(b)).max(NOTHING_KG);
        let changed = film.lying.last().is_none_or(|last| {
            differs(last.pile_kg, lying.pile_kg)
                || differs(last.scatter_kg, lying.scatter_kg)
                || differs(last.hanging_kg, lying.hanging_kg)
        });
        if changed {
            film.lying.push(lying);
        }
    }
}

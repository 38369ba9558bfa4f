//! A log as text.

use super::cast::{EndKind, LoggedCast, LoggedSession};
use super::clock::clock_text;
use super::columns::{catch_log_template, full_header};
use crate::angler::HookSize;

/// Writes sessions as a log, a row for each cast, in kilograms and grams. Columns for line and hook stand there if any cast
/// states one.
///
/// ```
/// let text = "session,date,cast_at,line,recast_at,bite_at,landed,weight,species,bait,feeder,loose_feed,note\n\
///             sunday,,9:00:00,bar,9:02:00,,,,,corn,25 g,,robbed\n\
///             sunday,,9:02:40,bar,,9:03:10,yes,1.254 kg,,corn,25 g,,\n";
/// let log = sim::catch_log::read_catch_log(text, "pond", "pond.csv").expect("nothing is wrong with it");
/// assert_eq!(sim::catch_log::catch_log_text(&log.sessions), text);
/// ```
#[must_use]
pub fn catch_log_text(sessions: &[LoggedSession]) -> String {
    let mut casts = sessions.iter().flat_map(|session| &session.casts);
    let states_end_tackle = casts.any(|cast| cast.end_tackle.is_stated());
    let mut text = if states_end_tackle { full_header() } else { catch_log_template() };
    for session in sessions {
        for cast in &session.casts {
            let mut fields = fields(session, cast);
            if states_end_tackle {
                fields.extend(end_tackle_fields(cast));
            }
            let fields: Vec<String> = fields.iter().map(|field| quoted_field(field)).collect();
            text.push_str(&fields.join(","));
            text.push('\n');
        }
    }
    text
}

fn end_tackle_fields(cast: &LoggedCast) -> [String; 2] {
    let strength = cast.end_tackle.line_strength_kg.map(|kg| format!("{kg:.3} kg"));
    let hook = cast.end_tackle.hook.map_or("", HookSize::word);
    [strength.unwrap_or_default(), hook.to_owned()]
}

/// The fields of a cast in the columns of the template.
fn fields(session: &LoggedSession, cast: &LoggedCast) -> Vec<String> {
    let end = cast.end.as_ref();
    let is_bite = cast.has_bite();
    let bite_at = end.filter(|_| is_bite).map(|end| clock_text(end.at_s));
    let unbitten_s = end.filter(|_| !is_bite).map(|end| end.at_s);
    let wound_in_s = end.and_then(|end| end.wound_in_s).or(unbitten_s);
    let catch = end.and_then(|end| end.catch.as_ref());
    let landed = catch.and_then(|catch| catch.landed);
    let grams = |kg: f64| format!("{:.0} g", 1000.0 * kg);
    let weight = catch.and_then(|catch| catch.weight_kg).map(|kg| format!("{kg:.3} kg"));
    let reason = end.map(|end| end.kind).filter(|kind| {
        !matches!(kind, EndKind::Bite | EndKind::WoundIn)
            && !cast.note.to_lowercase().starts_with(kind.word())
    });
    let note = match reason {
        Some(kind) => format!("{} {}", kind.word(), cast.note).trim().to_owned(),
        None => cast.note.clone(),
    };
    vec![
        session.name.clone(),
        session.date.clone().unwrap_or_default(),
        clock_text(cast.cast_s),
        cast.line.clone(),
        wound_in_s.map(clock_text).unwrap_or_default(),
        bite_at.unwrap_or_default(),
        landed.map_or("", |landed| if landed { "yes" } else { "no" }).to_owned(),
        weight.unwrap_or_default(),
        catch.map_or_else(String::new, |catch| catch.species.clone()),
        cast.bait.clone(),
        cast.feeder_kg.map(grams).unwrap_or_default(),
        cast.loose_feed_kg.map(grams).unwrap_or_default(),
        note,
    ]
}

/// A field, in quotation marks if it needs them.
fn quoted_field(field: &str) -> String {
    if field.contains(['"', ',', '\n', '\r']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.to_owned()
    }
}

//! Colours of the page and of the pictures in it, by day and by night.
//!
//! Pictures carry the colours of daylight as attributes, which a style sheet outranks: for a dark screen each
//! of them is given its counterpart.

use std::fmt::Write;

use super::super::marker::{PALETTE, SHADES};
use super::super::sheet::{BACKGROUND, GRID, INK, MUTED};

type Rgb = (u8, u8, u8);

/// Colours of plans on a dark ground, in the order of [`PALETTE`].
const PALETTE_DARK: [Rgb; 8] = [
    (86, 165, 232),
    (240, 128, 60),
    (32, 190, 145),
    (222, 146, 188),
    (214, 214, 210),
    (240, 178, 50),
    (140, 208, 246),
    (186, 140, 250),
];
/// Shades of parts on a dark ground, in the order of [`SHADES`].
const SHADES_DARK: [Rgb; 4] = [(206, 224, 230), (120, 152, 162), (58, 84, 94), (176, 190, 140)];
/// Ground, ink, muted ink and grid on a dark screen.
const BACKGROUND_DARK: Rgb = (24, 27, 30);
const INK_DARK: Rgb = (236, 235, 230);
const MUTED_DARK: Rgb = (172, 176, 178);
const GRID_DARK: Rgb = (62, 67, 72);

fn hex((r, g, b): Rgb) -> String {
    format!("#{r:02X}{g:02X}{b:02X}")
}

/// Style rules for both kinds of screen; paper is always light.
pub(super) fn paint() -> String {
    let grounds = [
        ("ground", BACKGROUND, BACKGROUND_DARK),
        ("ink", (INK.0, INK.1, INK.2), INK_DARK),
        ("muted", (MUTED.0, MUTED.1, MUTED.2), MUTED_DARK),
        ("grid", (GRID.0, GRID.1, GRID.2), GRID_DARK),
    ];
    let plans = PALETTE.into_iter().zip(PALETTE_DARK).enumerate();
    let shades = SHADES.into_iter().zip(SHADES_DARK).enumerate();
    let all: Vec<(String, Rgb, Rgb)> = grounds
        .into_iter()
        .map(|(name, day, night)| (name.to_owned(), day, night))
        .chain(plans.map(|(at, (day, night))| (format!("p{at}"), day, night)))
        .chain(shades.map(|(at, (day, night))| (format!("s{at}"), day, night)))
        .collect();
    // Writing to a string does not fail.
    let mut style = String::from(":root{color-scheme:light dark;");
    for (name, day, _) in &all {
        let _ = write!(style, "--{name}:{};", hex(*day));
    }
    style.push_str("}\n");
    for at in 0..PALETTE.len() {
        let _ = write!(style, ".p{at}{{background:var(--p{at})}}");
    }
    style.push_str("\n@media screen and (prefers-color-scheme:dark){:root{");
    for (name, _, night) in &all {
        let _ = write!(style, "--{name}:{};", hex(*night));
    }
    style.push_str("}\n");
    for (name, day, _) in &all {
        for of in ["fill", "stroke"] {
            let _ = write!(style, "svg [{of}=\"{}\"]{{{of}:var(--{name})}}", hex(*day));
        }
    }
    let ground = hex(BACKGROUND);
    let _ = write!(style, "}}\n@media print{{svg [fill=\"{ground}\"]{{fill:#FFFFFF}}}}\n");
    style
}

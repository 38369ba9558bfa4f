//! Colours of the page and its pictures, in light and dark mode.
//!
//! Pictures carry their light colours as attributes. A style sheet overrides attributes, so in dark mode each colour is
//! replaced by its dark counterpart.

use std::fmt::Write;

use crate::report::draw::{BACKGROUND, GRID, INK, MUTED, PALETTE, SHADES};

type Rgb = (u8, u8, u8);

/// Colours of plans in dark mode, in the order of [`PALETTE`].
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
/// Shades of parts in dark mode, in the order of [`SHADES`].
const SHADES_DARK: [Rgb; 4] = [(206, 224, 230), (120, 152, 162), (58, 84, 94), (176, 190, 140)];
/// Background, ink, muted ink and grid in dark mode.
const BACKGROUND_DARK: Rgb = (24, 27, 30);
const INK_DARK: Rgb = (236, 235, 230);
const MUTED_DARK: Rgb = (172, 176, 178);
const GRID_DARK: Rgb = (62, 67, 72);

/// A colour as `#RRGGBB`.
fn hex((r, g, b): Rgb) -> String {
    format!("#{r:02X}{g:02X}{b:02X}")
}

/// Style rules for light and dark mode; print is always light.
pub(crate) fn style_rules() -> String {
    let basics = [
        ("ground", BACKGROUND, BACKGROUND_DARK),
        ("ink", (INK.0, INK.1, INK.2), INK_DARK),
        ("muted", (MUTED.0, MUTED.1, MUTED.2), MUTED_DARK),
        ("grid", (GRID.0, GRID.1, GRID.2), GRID_DARK),
    ];
    let plans = PALETTE.into_iter().zip(PALETTE_DARK).enumerate();
    let shades = SHADES.into_iter().zip(SHADES_DARK).enumerate();
    let all: Vec<(String, Rgb, Rgb)> = basics
        .into_iter()
        .map(|(name, light, dark)| (name.to_owned(), light, dark))
        .chain(plans.map(|(index, (light, dark))| (format!("p{index}"), light, dark)))
        .chain(shades.map(|(index, (light, dark))| (format!("s{index}"), light, dark)))
        .collect();
    // Writing to a string does not fail.
    let mut style = String::from(":root{color-scheme:light dark;");
    for (name, light, _) in &all {
        let _ = write!(style, "--{name}:{};", hex(*light));
    }
    style.push_str("}\n");
    for index in 0..PALETTE.len() {
        let _ = write!(style, ".p{index}{{background:var(--p{index})}}");
    }
    style.push_str("\n@media screen and (prefers-color-scheme:dark){:root{");
    for (name, _, dark) in &all {
        let _ = write!(style, "--{name}:{};", hex(*dark));
    }
    style.push_str("}\n");
    for (name, light, _) in &all {
        for attribute in ["fill", "stroke"] {
            let _ =
                write!(style, "svg [{attribute}=\"{}\"]{{{attribute}:var(--{name})}}", hex(*light));
        }
    }
    let ground = hex(BACKGROUND);
    let _ = write!(style, "}}\n@media print{{svg [fill=\"{ground}\"]{{fill:#FFFFFF}}}}\n");
    style
}

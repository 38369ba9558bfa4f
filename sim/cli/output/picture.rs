//! Pictures, each written as SVG and as PNG.

use super::folder::Folder;
use crate::cli::exit_status::ExitError;
use crate::report::png;

/// Width of a PNG [px].
const WIDTH_PX: u32 = 1600;

/// Writes a picture as `name.svg` and `name.png`.
pub(in crate::cli) fn write_picture(
    folder: &mut Folder,
    name: &str,
    svg: &str,
) -> Result<(), ExitError> {
    folder.write(&format!("{name}.svg"), svg.as_bytes())?;
    let bytes = png(svg, WIDTH_PX).map_err(|error| ExitError::Failed(error.into()))?;
    Ok(folder.write(&format!("{name}.png"), &bytes)?)
}

//! The page in one file: scripts, style, scenarios and the model inside, so that it works from disk without a network.

use base64::Engine;
use base64::prelude::BASE64_STANDARD;

use super::assets::{FILE_SCRIPTS, asset, scripts};
use super::catalogue::Catalogue;
use super::model::ShelvedScenario;
use crate::scenario::Diagnostics;

/// The model for browsers, packed with gzip; empty in a build without it.
const PACKED_MODEL: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/page-model.wasm.gz"));

/// Why the page could not be put into one file.
#[derive(Clone, Debug, thiserror::Error)]
pub enum SingleFileError {
    /// This build has no model for browsers.
    #[error(
        "this build of the program has no model for browsers inside; a released program has one, and `.ci/page` builds one"
    )]
    NoModel,
    /// A scenario of the folder, or a file of lessons, has faults.
    #[error("{0}")]
    Scenario(#[from] Diagnostics),
}

/// The page with the scenarios of a catalogue as one HTML file.
///
/// # Errors
///
/// [`SingleFileError`] if this build has no model for browsers, or a scenario has faults.
pub fn page_in_one_file(catalogue: &Catalogue) -> Result<String, SingleFileError> {
    if PACKED_MODEL.is_empty() {
        return Err(SingleFileError::NoModel);
    }
    let shelf: Vec<ShelvedScenario> = catalogue
        .own()?
        .into_iter()
        .map(|(source, lessons)| {
            let weigh_ins = source.stored_weigh_ins().map(str::to_owned);
            ShelvedScenario { name: source.name, text: source.text, weigh_ins, lessons }
        })
        .collect();
    Ok(assembled(&shelf, PACKED_MODEL))
}

/// Text of a file of the page.
fn text_of(path: &str) -> String {
    asset(path).map_or_else(String::new, |(_, bytes)| String::from_utf8_lossy(bytes).into_owned())
}

/// A file as an address that holds it.
fn address(kind: &str, bytes: &[u8]) -> String {
    format!("data:{kind};base64,{}", BASE64_STANDARD.encode(bytes))
}

/// The frame of the page with everything inside.
fn assembled(shelf: &[ShelvedScenario], model: &[u8]) -> String {
    let mark = address("image/svg+xml", text_of("/mark.svg").as_bytes());
    // Scripts import one another by name; an address that holds a script has no folder.
    let named = |script: &str| script.replace("from \"./", "from \"page/");
    let modules: serde_json::Map<String, serde_json::Value> = scripts()
        .map(|name| {
            let script = match name {
                "api.js" => FILE_SCRIPTS.api.to_owned(),
                name => text_of(&format!("/{name}")),
            };
            let address = address("text/javascript", named(&script).as_bytes());
            (format!("page/{name}"), address.into())
        })
        .collect();
    let imports = serde_json::json!({ "imports": modules });
    // No `<` of a scenario's text can end or open an element: JSON reads the escape as the same sign.
    let shelf = serde_json::json!(shelf).to_string().replace('<', "\\u003c");
    let scripts = format!(
        "<script type=\"importmap\">{imports}</script>\n\
         <script type=\"application/json\" id=\"shelf\">{shelf}</script>\n\
         <script type=\"text/plain\" id=\"worker\">{}</script>\n\
         <script type=\"text/plain\" id=\"packed-model\">{}</script>\n\
         <script type=\"module\">import \"page/start.js\";</script>",
        FILE_SCRIPTS.worker,
        BASE64_STANDARD.encode(model),
    );
    text_of("/")
        .replace(
            "<link rel=\"stylesheet\" href=\"/look.css\">",
            &format!("<style>\n{}</style>", text_of("/look.css")),
        )
        .replace("<script type=\"module\" src=\"/start.js\"></script>", "")
        .replace("/mark.svg", &mark)
        .replace("</body>", &format!("{scripts}\n</body>"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_the_file_is_fetched_from_elsewhere() {
        let text = "title = \"</script><script>alert(1)</script>\"".to_owned();
        let shelved =
            ShelvedScenario { name: "own".to_owned(), text, weigh_ins: None, lessons: None };
        let page = assembled(&[shelved], b"model");
        for outside in ["src=\"/", "href=\"/", "src=\"http", "href=\"http", "from \"./", "url(/"] {
            assert!(!page.contains(outside), "{outside}");
        }
        assert!(!page.contains("<script>alert"), "a scenario ends no script");
        assert_eq!(page.matches("<script").count(), page.matches("</script>").count());
        for name in scripts() {
            assert!(
                page.contains(&format!("\"page/{name}\":\"data:text/javascript;base64,")),
                "{name}"
            );
        }
        assert!(page.contains(&BASE64_STANDARD.encode(b"model")));
    }
}

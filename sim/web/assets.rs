//! The files of the page, built into the program.

/// One file of the page: its path, content type and content.
type Asset = (&'static str, &'static str, &'static [u8]);

const HTML: &str = "text/html; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

macro_rules! script {
    ($name:literal) => {
        (concat!("/", $name), SCRIPT, include_bytes!(concat!("page/", $name)))
    };
}

const ASSETS: &[Asset] = &[
    ("/", HTML, include_bytes!("page/frame/index.html")),
    ("/look.css", "text/css; charset=utf-8", include_bytes!("page/frame/look.css")),
    ("/mark.svg", "image/svg+xml", include_bytes!("page/frame/mark.svg")),
    script!("api.js"),
    script!("bank.js"),
    script!("canvas.js"),
    script!("changes.js"),
    script!("chart.js"),
    script!("class_view.js"),
    script!("compare.js"),
    script!("controls.js"),
    script!("elements.js"),
    script!("lessons.js"),
    script!("now.js"),
    script!("recording.js"),
    script!("replay.js"),
    script!("results.js"),
    script!("side_view.js"),
    script!("start.js"),
    script!("state.js"),
    script!("swim_view.js"),
    script!("units.js"),
];

/// Content type and content of the file at a path.
pub(super) fn asset(path: &str) -> Option<(&'static str, &'static [u8])> {
    ASSETS.iter().find(|(known, _, _)| *known == path).map(|&(_, kind, bytes)| (kind, bytes))
}

/// Names of the page's scripts.
pub(super) fn scripts() -> impl Iterator<Item = &'static str> {
    ASSETS.iter().filter(|(_, kind, _)| *kind == SCRIPT).map(|(path, _, _)| &path[1..])
}

/// Scripts that only the page in one file has.
pub(super) struct FileScripts {
    /// Stands in for `api.js`: requests go to the model inside.
    pub(super) api: &'static str,
    /// A worker that has the model.
    pub(super) worker: &'static str,
}

/// The scripts of the page in one file.
pub(super) const FILE_SCRIPTS: FileScripts =
    FileScripts { api: include_str!("file/api.js"), worker: include_str!("file/worker.js") };

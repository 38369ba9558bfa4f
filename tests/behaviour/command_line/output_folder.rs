//! The output folder of a run: its files, and the results that are never replaced.

use std::fs;
use std::path::Path;

use sim::cli::{Folder, FolderError, RUN_FILES, RunOrigin, RunSpec};
use sim::study::Stamp;

use super::program::names;

fn run_spec(seed: u64, days: u32) -> RunSpec {
    RunSpec {
        command: "compare",
        stamp: Stamp::new("pond", "ab12", seed),
        plans: vec!["often".to_owned(), "seldom".to_owned()],
        result_options: Vec::new(),
        days,
        origin: RunOrigin::default(),
    }
}

/// A run that writes two files.
fn leave(out: &Path, spec: RunSpec) {
    let days = spec.days;
    let mut folder = Folder::choose(Some(out), spec).expect("it is free");
    folder.write("sessions.csv", b"plan,day\n").expect("rows");
    folder.write("summary.json", b"{}\n").expect("a summary");
    folder.write_stamp(days).expect("a stamp");
}

fn refusal(out: &Path, spec: RunSpec) -> String {
    match Folder::choose(Some(out), spec) {
        Err(fault @ FolderError::Occupied { .. }) => fault.to_string(),
        other => panic!("it should have been refused, and was {other:?}"),
    }
}

#[test]
fn a_run_writes_complete_files_and_its_stamp() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let out = place.path().join("new/deep");
    leave(&out, run_spec(1, 400));
    assert_eq!(names(&out), ["sessions.csv", "stamp.json", "summary.json"]);
    let stamp = fs::read_to_string(out.join("stamp.json")).expect("a stamp");
    let stamp: serde_json::Value = serde_json::from_str(&stamp).expect("it is JSON");
    assert_eq!(stamp["format"], "shoalwise/stamp/1");
    assert_eq!(stamp["stamp"]["seed"], 1);
    assert_eq!(stamp["days"], 400);
    assert_eq!(stamp["files"]["sessions.csv"], "shoalwise/sessions/1");
}

#[test]
fn the_same_run_may_reuse_its_folder_but_not_with_fewer_days() {
    let place = tempfile::tempdir().expect("a temporary folder");
    leave(place.path(), run_spec(1, 400));
    leave(place.path(), run_spec(1, 400));
    leave(place.path(), run_spec(1, 800));
    let message = refusal(place.path(), run_spec(1, 400));
    assert!(message.contains("800 days") && message.contains("--out"), "{message}");
}

#[test]
fn a_run_until_clear_reuses_its_own_folder_but_not_one_with_more_days() {
    let until_clear = |out: &Path| Folder::choose_until_clear(Some(out), run_spec(1, 0));
    let place = tempfile::tempdir().expect("a temporary folder");
    let mut folder = until_clear(place.path()).expect("it is free");
    folder.write("summary.json", b"{}\n").expect("a summary");
    folder.write_stamp(200).expect("a stamp");
    // The same run takes the same number of days again.
    until_clear(place.path()).expect("the same again");
    // A run with a larger number of days replaces it, but is not replaced by it.
    assert!(refusal(place.path(), run_spec(1, 100)).contains("200 days"));
    leave(place.path(), run_spec(1, 400));
    match until_clear(place.path()) {
        Err(fault @ FolderError::Occupied { .. }) => {
            assert!(fault.to_string().contains("400 days"))
        }
        other => panic!("it should have been refused, and was {other:?}"),
    }
}

#[test]
fn results_of_another_run_are_never_replaced() {
    let place = tempfile::tempdir().expect("a temporary folder");
    leave(place.path(), run_spec(1, 400));
    let before = fs::read(place.path().join("stamp.json")).expect("a stamp");
    let message = refusal(place.path(), run_spec(2, 400));
    assert!(message.contains("seed 1, not 2") && message.contains("--out"), "{message}");
    let other_plans = RunSpec { plans: vec!["often".to_owned()], ..run_spec(1, 400) };
    assert!(refusal(place.path(), other_plans).contains("plans"));
    assert_eq!(fs::read(place.path().join("stamp.json")).expect("a stamp"), before);
}

#[test]
fn results_without_a_stamp_are_never_replaced() {
    let place = tempfile::tempdir().expect("a temporary folder");
    fs::write(place.path().join("notes.txt"), "mine").expect("a note");
    Folder::choose(Some(place.path()), run_spec(1, 400)).expect("notes are no obstacle");
    for name in ["summary.json", "weight-curve.svg", "report.html", "card.pdf", "vary-cast.png"] {
        fs::write(place.path().join(name), "{}").expect("a result");
        let message = refusal(place.path(), run_spec(1, 400));
        assert!(message.contains(name), "{message}");
        fs::remove_file(place.path().join(name)).expect("removed");
    }
}

#[test]
fn a_file_with_the_name_of_the_folder_is_refused() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let file = place.path().join("taken");
    fs::write(&file, "mine").expect("a file");
    assert!(refusal(&file, run_spec(1, 400)).contains("a file instead of a folder"));
}

#[test]
fn a_run_that_writes_no_file_leaves_no_folder() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let out = place.path().join("later");
    let folder = Folder::choose(Some(&out), run_spec(1, 400)).expect("it is free");
    drop(folder);
    assert!(!out.exists());
}

#[test]
fn an_unfinished_file_leaves_nothing() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let out = place.path().join("results");
    let mut folder = Folder::choose(Some(&out), run_spec(1, 400)).expect("it is free");
    let file = folder.start_file("sessions.csv").expect("begun");
    assert!(!out.join("sessions.csv").exists(), "it has no name before it is finished");
    drop(file);
    folder.discard_file("sessions.csv");
    drop(folder);
    assert!(!out.exists(), "the folder is removed with its only file");
    // A folder that existed before stays.
    fs::create_dir(&out).expect("a folder");
    let mut folder = Folder::choose(Some(&out), run_spec(1, 400)).expect("it is free");
    drop(folder.start_file("sessions.csv").expect("begun"));
    folder.discard_file("sessions.csv");
    drop(folder);
    assert_eq!(names(&out), [""; 0]);
}

#[test]
fn a_folder_belongs_to_one_run_at_a_time() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let first = Folder::choose(Some(place.path()), run_spec(1, 400)).expect("it is free");
    for seed in [1, 2] {
        assert!(refusal(place.path(), run_spec(seed, 400)).contains("writing at this moment"));
    }
    drop(first);
    Folder::choose(Some(place.path()), run_spec(2, 400)).expect("it is free again");
}

#[test]
fn a_run_that_was_cut_short_goes_on_and_no_other_takes_its_folder() {
    let place = tempfile::tempdir().expect("a temporary folder");
    leave(place.path(), run_spec(1, 100));
    let mut folder = Folder::choose(Some(place.path()), run_spec(1, 400)).expect("it is free");
    folder.write("sessions.csv", b"plan,day,more\n").expect("rows");
    assert!(!place.path().join("stamp.json").exists(), "the old stamp tells of other rows");
    let unfinished = folder.start_file("summary.json").expect("begun");
    // The process ends here: its lock is released, and all its files stay as they are.
    drop(unfinished);
    drop(folder);
    assert!(names(place.path()).iter().any(|name| name.ends_with(".unfinished")));
    let message = refusal(place.path(), run_spec(2, 400));
    assert!(message.contains("unfinished results of another run (seed 1, not 2)"), "{message}");
    leave(place.path(), run_spec(1, 400));
    assert_eq!(names(place.path()), ["sessions.csv", "stamp.json", "summary.json"]);
}

#[cfg(unix)]
#[test]
fn a_link_in_place_of_a_lock_is_not_followed() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let victim = place.path().join("victim");
    fs::write(&victim, "mine").expect("a file");
    let out = place.path().join("out");
    fs::create_dir(&out).expect("a folder");
    std::os::unix::fs::symlink(&victim, out.join(".unfinished.json")).expect("a link");
    assert!(Folder::choose(Some(&out), run_spec(1, 400)).is_err());
    assert!(sim::study::open_lock_file(&out.join(".unfinished.json")).is_err());
    assert_eq!(fs::read_to_string(&victim).expect("a file"), "mine");
}

#[test]
fn the_page_about_output_lists_every_file() {
    let page = fs::read_to_string("output/README.md").expect("a page");
    for file in &RUN_FILES {
        let format = file.format.map_or_else(String::new, |format| format!("`{format}`"));
        let row = format!("| `{}` | {} | {} | {format} |", file.name, file.commands, file.content);
        let row = row.replace("|  |", "| |");
        assert!(page.contains(&row), "output/README.md has no line\n{row}");
    }
}

#[test]
#[should_panic(expected = "notes.txt is not in the table of files")]
fn a_file_that_is_not_in_the_table_is_never_written() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let mut folder = Folder::choose(Some(place.path()), run_spec(1, 400)).expect("it is free");
    let _ = folder.write("notes.txt", b"mine");
}

//! The rules of the house: what stands where, who may use whom, and what is never said.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the top level holds, apart from names that begin with a dot.
const TOP: [&str; 9] = [
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "assets",
    "crates",
    "demo",
    "tests",
];

/// Lines of the longest file that still holds one topic.
const LONGEST_FILE: usize = 500;

/// What `layout` is built from: geometry, numbers, and serde's traits. Nothing here opens a window
/// or a file, or asks a clock (geo's seeded generators get no seed from the system).
const PURE: &[&str] = &[
    "ahash",
    "approx",
    "arrayvec",
    "bytemuck",
    "byteorder",
    "cavalier_contours",
    "cfg-if",
    "earcut",
    "float_next_after",
    "geo",
    "geo-types",
    "geographiclib-rs",
    "hash32",
    "heapless",
    "i_float",
    "i_key_sort",
    "i_overlay",
    "i_shape",
    "i_tree",
    "kurbo",
    "libm",
    "log",
    "matrixmultiply",
    "nalgebra",
    "num-complex",
    "num-integer",
    "num-rational",
    "num-traits",
    "once_cell",
    "polycool",
    "proc-macro2",
    "quote",
    "rand",
    "rand_core",
    "rand_pcg",
    "rawpointer",
    "robust",
    "rstar",
    "safe_arch",
    "serde",
    "serde_core",
    "serde_derive",
    "sif-itree",
    "simba",
    "smallvec",
    "stable_deref_trait",
    "static_aabb2d_index",
    "syn",
    "thiserror",
    "thiserror-impl",
    "typenum",
    "unicode-ident",
    "wide",
    "zerocopy",
];

fn root() -> PathBuf {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    tests
        .parent()
        .expect("the package lies in the workspace")
        .to_path_buf()
}

/// Every file of the project: those that git tracks or would, or all of them in a bare copy.
fn files() -> Vec<PathBuf> {
    let root = root();
    if root.join(".git").exists() {
        let listed = Command::new("git")
            .args(["ls-files", "--cached", "--others", "--exclude-standard"])
            .current_dir(&root)
            .output()
            .expect("git runs");
        assert!(listed.status.success());
        let listed = String::from_utf8(listed.stdout).expect("file names are text");
        return listed
            .lines()
            .map(PathBuf::from)
            .filter(|file| root.join(file).is_file())
            .collect();
    }
    let mut found = Vec::new();
    let mut folders = vec![PathBuf::new()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(root.join(&folder)).expect("the folder can be read") {
            let name = folder.join(entry.expect("the entry can be read").file_name());
            if name == Path::new("target") {
                continue;
            }
            if root.join(&name).is_dir() {
                folders.push(name);
            } else {
                found.push(name);
            }
        }
    }
    found
}

fn is_code(file: &Path) -> bool {
    file.extension().is_some_and(|extension| extension == "rs")
}

/// The text of every file that holds any.
fn texts() -> impl Iterator<Item = (PathBuf, String)> {
    let text = |file: PathBuf| Some((file.clone(), fs::read_to_string(root().join(file)).ok()?));
    files().into_iter().filter_map(text)
}

#[test]
fn the_top_level_holds_what_the_house_allows_and_all_of_it() {
    let first = |file: PathBuf| {
        let first = file.components().next().expect("a file has a name");
        first.as_os_str().to_string_lossy().into_owned()
    };
    let top: BTreeSet<String> = files()
        .into_iter()
        .map(first)
        .filter(|name| !name.starts_with('.'))
        .collect();
    assert_eq!(top.iter().map(String::as_str).collect::<Vec<_>>(), TOP);
}

/// The names of all packages that a package reaches by its normal dependencies.
fn reached_from(package: &str) -> BTreeSet<String> {
    let tree = Command::new(env!("CARGO"))
        .args(["tree", "--package", package, "--edges", "normal"])
        .args(["--prefix", "none", "--format", "{p}", "--locked"])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(
        tree.status.success(),
        "{}",
        String::from_utf8_lossy(&tree.stderr)
    );
    let tree = String::from_utf8(tree.stdout).expect("names of packages are text");
    let first_word = |line: &str| line.split_whitespace().next().map(str::to_owned);
    let names = tree.lines().filter_map(first_word);
    names.filter(|name| name != package).collect()
}

#[test]
fn layout_reaches_no_window_file_or_clock() {
    let reached = reached_from("gazewright-layout");
    assert!(reached.contains("geo") && reached.contains("serde"));
    let foreign: Vec<_> = reached
        .iter()
        .filter(|name| !PURE.contains(&name.as_str()))
        .collect();
    assert!(foreign.is_empty(), "{foreign:?}");
}

#[test]
fn output_reaches_no_window_and_arrows_run_one_way() {
    let output = reached_from("gazewright-output");
    assert!(output.contains("gazewright-layout"));
    for name in [
        "egui",
        "eframe",
        "epaint",
        "winit",
        "rfd",
        "jiff",
        "gazewright-desk",
    ] {
        assert!(!output.contains(name), "{name}");
    }
    let desk = reached_from("gazewright-desk");
    assert!(desk.contains("gazewright-output") && desk.contains("egui"));
    for name in ["gazewright-output", "gazewright-desk"] {
        assert!(!reached_from("gazewright-layout").contains(name), "{name}");
    }
}

#[test]
fn intake_reaches_layout_alone_among_our_own_and_neither_fonts_nor_network() {
    let intake = reached_from("gazewright-intake");
    assert!(intake.contains("gazewright-layout") && intake.contains("usvg"));
    let ours = intake.iter().filter(|name| name.starts_with("gazewright-"));
    assert_eq!(ours.count(), 1, "{intake:?}");
    for name in [
        "egui",
        "winit",
        "rfd",
        "fontdb",
        "rustybuzz",
        "memmap2",
        "resvg",
        "ureq",
        "reqwest",
        "hyper",
        "socket2",
    ] {
        assert!(!intake.contains(name), "{name}");
    }
    for name in ["gazewright-layout", "gazewright-output"] {
        assert!(!reached_from(name).contains("gazewright-intake"), "{name}");
    }
}

#[test]
fn every_file_of_code_is_short_enough_to_hold_one_topic() {
    for (file, text) in texts().filter(|(file, _)| is_code(file)) {
        let lines = text.lines().count();
        assert!(
            lines <= LONGEST_FILE,
            "{} has {lines} lines",
            file.display()
        );
    }
}

#[test]
fn the_readme_begins_with_the_job_and_shows_two_commands() {
    let readme = fs::read_to_string(root().join("README.md")).expect("there is a README");
    let mut blocks = readme.split("\n\n");
    assert_eq!(blocks.next(), Some("# Gazewright"));
    let job = blocks.next().expect("a paragraph follows the title");
    assert!(job.starts_with("Gazewright lays out"), "{job}");
    let mut commands = Vec::new();
    let mut within = false;
    for line in readme.lines() {
        if line.starts_with("```") {
            within = !within;
        } else if within {
            commands.push(line);
        }
    }
    assert_eq!(commands, ["cargo run --release", "cargo test --workspace"]);
}

/// Puts a word together that this file must not hold in one piece.
fn word(pieces: &[&str]) -> String {
    pieces.concat()
}

#[test]
fn nothing_is_left_undone_or_tested_by_nothing() {
    let unfinished = [
        word(&["TO", "DO"]),
        word(&["FIX", "ME"]),
        word(&["to", "do!"]),
        word(&["unimple", "mented!"]),
        word(&["#[", "ignore"]),
        word(&["should_", "panic"]),
        word(&["assert!(", "true)"]),
    ];
    for (file, text) in texts().filter(|(file, _)| is_code(file)) {
        for word in &unfinished {
            assert!(!text.contains(word), "{} holds `{word}`", file.display());
        }
    }
}

#[test]
fn the_product_speaks_of_itself_alone() {
    let foreign = [
        word(&["transcri", "pt"]),
        word(&["seed docu", "ment"]),
        word(&["/wo", "rk/"]),
        word(&["/fa", "rm/"]),
        word(&["crates", ".io"]),
        word(&["pypi", ".org"]),
        word(&["npm", "js"]),
        word(&["debian", ".org"]),
        word(&["sub-", "agent"]),
        word(&["sub", "agent"]),
    ];
    let lock = Path::new("Cargo.lock");
    let spoken =
        |file: &Path| file != lock && file.extension().is_none_or(|extension| extension != "svg");
    for (file, text) in texts().filter(|(file, _)| spoken(file)) {
        let text = text.to_lowercase();
        for word in &foreign {
            assert!(!text.contains(word), "{} holds `{word}`", file.display());
        }
    }
}

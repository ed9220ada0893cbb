//! The program as it is built, run in a folder of its own.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{env, fs};

/// The program with arguments, in a folder, and with no display.
pub(crate) fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gazewright"));
    command
        .args(arguments)
        .current_dir(folder)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET");
    command
}

/// Runs the program in a folder and gives its exit status, output and errors.
pub(crate) fn run(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let Output {
        status,
        stdout,
        stderr,
    } = command(folder, arguments)
        .output()
        .expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the program writes text");
    let status = status.code().expect("the program ends by itself");
    (status, text(stdout), text(stderr))
}

/// A folder of its own for one test, gone when the test is over.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new() -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("gazewright-test-{}-{count}", std::process::id());
        let path = env::temp_dir().join(name);
        fs::create_dir_all(&path).expect("a folder can be made");
        Self(path)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }

    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.file(name);
        fs::write(&path, bytes).expect("a file can be written");
        path
    }

    /// Names and contents of all that lies in it; a folder in it has none.
    pub(crate) fn contents(&self) -> Vec<(String, Option<Vec<u8>>)> {
        let entries = fs::read_dir(&self.0).expect("the folder can be read");
        let mut contents: Vec<_> = entries
            .map(|entry| {
                let entry = entry.expect("the entry can be read");
                let name = entry.file_name().to_string_lossy().into_owned();
                (name, fs::read(entry.path()).ok())
            })
            .collect();
        contents.sort();
        contents
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed is left to the system's temporary folder.
        let _ = fs::remove_dir_all(&self.0);
    }
}

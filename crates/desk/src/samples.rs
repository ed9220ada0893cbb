//! The characters that come with the program.

use layout::Project;

use crate::files;

/// A character that is built in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// What `--sample` calls it.
    pub name: &'static str,
    /// What is special about it, in a few words.
    pub about: &'static str,
    /// Its file.
    pub text: &'static str,
}

/// All of them; the first is the one that the window opens on.
pub const SAMPLES: [Sample; 6] = [
    Sample {
        name: "bramble",
        about: "an ordinary pair of 40 mm balls",
        text: include_str!("../../../demo/bramble.ron"),
    },
    Sample {
        name: "dame-sorrel",
        about: "a wide pair of 50 mm balls on a plate that follows the head",
        text: include_str!("../../../demo/dame-sorrel.ron"),
    },
    Sample {
        name: "old-tarn",
        about: "a close pair of 30 mm balls in plain openings",
        text: include_str!("../../../demo/old-tarn.ron"),
    },
    Sample {
        name: "nettle",
        about: "a pair that fouls in several ways, to be put right",
        text: include_str!("../../../demo/nettle.ron"),
    },
    Sample {
        name: "wimple",
        about: "three eyes of two sizes",
        text: include_str!("../../../demo/wimple.ron"),
    },
    Sample {
        name: "thistle",
        about: "a first sketch on an old plate, with parts that cannot be made",
        text: include_str!("../../../demo/thistle.ron"),
    },
];

/// The one that the window opens on.
pub const DEFAULT: Sample = SAMPLES[0];

impl Sample {
    /// The sample of a name, upper or lower case.
    pub fn called(name: &str) -> Option<Self> {
        SAMPLES
            .into_iter()
            .find(|sample| sample.name.eq_ignore_ascii_case(name))
    }

    /// The sample as a project.
    ///
    /// # Panics
    /// If its file is not a project; a test reads them all.
    pub fn project(self) -> Project {
        files::parse(self.text).expect("a built-in sample is a project")
    }
}

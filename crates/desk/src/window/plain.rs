//! What a new character starts from.

use layout::Project;
use layout::head::start_outline;
use layout::title_block::TitleBlock;

use crate::samples;

/// Width and height of a plain head, mm: room for a pair of the sample's eyes.
const HEAD: [f64; 2] = [170.0, 200.0];

/// What a file is called while the character has no name.
const UNNAMED_FILE: &str = "character";

/// A plain project: the sample's parts in an elliptic head, without a name, ties or anchor holes.
pub(crate) fn project() -> Project {
    let mut project = samples::DEFAULT.project();
    project.name.clear();
    project.head.outline = start_outline(HEAD[0], HEAD[1], 0.0);
    project.head.anchor_holes.clear();
    project.parts.lids = None;
    project.ties.clear();
    project.drives.clear();
    project.title_block = TitleBlock::default();
    project
}

/// A file's name for a character: lower case, with hyphens, without an extension.
pub(crate) fn file_name(character: &str) -> String {
    let words = character.split(|c: char| !c.is_alphanumeric());
    let words: Vec<_> = words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    if words.is_empty() {
        UNNAMED_FILE.to_owned()
    } else {
        words.join("-")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_character_can_be_laid_out_and_fouls_nowhere() {
        let project = project();
        assert_eq!(project.check(), Ok(()));
        assert_ne!(layout::evaluate(&project).worst(), layout::State::Fouls);
    }

    #[test]
    fn a_file_is_named_after_the_character() {
        assert_eq!(file_name("Bramble the badger"), "bramble-the-badger");
        assert_eq!(file_name("Zoë: No. 2!"), "zoë-no-2");
        assert_eq!(file_name(" … "), "character");
    }
}

//! A shelf of plates as a file: each entry by itself, so that a bad one leaves the others usable.

use std::io::Write;
use std::path::Path;

use layout::shelf::{Shelf, ShelfPlate};
use ron::error::SpannedError;

use super::disk::text_of;
use super::error::{FileError, Place};
use super::explain::{explain, explain_piece};
use super::locate::{Map, Node};
use super::parse::{located, sound};
use super::replace::{Backup, replace};
use super::text::shelf_text;

/// What a file of plates holds.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadShelf {
    /// The plates that can be used.
    pub shelf: Shelf,
    /// What is wrong with single entries, in the file's order.
    pub troubles: Vec<Trouble>,
}

/// What is wrong with one entry of a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The entry's index in the file.
    pub index: usize,
    /// The plate's name, where it can be read.
    pub name: Option<String>,
    /// What is wrong, with place and field.
    pub error: FileError,
    /// Whether the entry is left out, and not only told apart.
    pub set_aside: bool,
}

impl ReadShelf {
    /// The entries that are left out.
    pub fn set_aside(&self) -> impl Iterator<Item = &Trouble> {
        self.troubles.iter().filter(|trouble| trouble.set_aside)
    }

    /// In two sentences, that there is no plate to be tried and how to get one; None if there is one.
    pub fn nothing_on_it(&self) -> Option<[&'static str; 2]> {
        if !self.shelf.plates.is_empty() {
            return None;
        }
        Some(if self.set_aside().next().is_some() {
            [
                "No plate on this shelf can be used.",
                "Mend its entries in the file.",
            ]
        } else {
            [
                "There are no plates on this shelf.",
                "Open a project in the window and put its plate there, or measure a plate that you have.",
            ]
        })
    }

    /// Refuses to write over entries that were left out, which would lose them.
    ///
    /// # Errors
    /// A [`FileError`] that names them.
    pub fn may_be_replaced(&self) -> Result<(), FileError> {
        let entries: Vec<String> = self.set_aside().map(Trouble::entry).collect();
        if entries.is_empty() {
            return Ok(());
        }
        Err(FileError::new(
            format!(
                "Nothing is put on this shelf: what cannot be read of it would be lost ({}).",
                entries.join(", ")
            ),
            "Mend these entries in the file or take them out, or choose another file.",
        ))
    }
}

impl Trouble {
    /// Which entry it is.
    pub fn entry(&self) -> String {
        let number = self.index + 1;
        match &self.name {
            Some(name) => format!("entry {number} (“{name}”)"),
            None => format!("entry {number}"),
        }
    }

    /// In one sentence, which entry it is, what becomes of it, and what is wrong.
    pub fn sentence(&self) -> String {
        let (entry, error) = (self.entry(), &self.error);
        let entry = entry.replacen('e', "E", 1);
        let becomes = if self.set_aside { " is left out" } else { "" };
        format!("{entry}{becomes}: {error}")
    }

    /// The same, found in a file.
    pub(crate) fn in_file(self, path: &Path) -> Self {
        Self {
            error: self.error.in_file(path),
            ..self
        }
    }
}

/// Reads a shelf of plates from a file.
///
/// # Errors
/// A [`FileError`] that names the file, if it cannot be read or as [`parse_shelf`] has it.
pub fn read_shelf(path: &Path) -> Result<ReadShelf, FileError> {
    parse_shelf(&text_of(path)?).map_err(|error| error.in_file(path))
}

/// Saves a shelf of plates. The file that was there stays as [`super::backup_of`] it.
///
/// # Errors
/// A [`FileError`]; the old file is then as it was.
pub fn save_shelf(path: &Path, shelf: &Shelf) -> Result<(), FileError> {
    replace(path, Backup::Keep, |file: &mut dyn Write| {
        file.write_all(shelf_text(shelf).as_bytes())
    })
}

/// Reads a shelf of plates from RON. Entries that are no plates, or none that can be tried, are left out and
/// told; a second plate of a name is told, too.
///
/// # Errors
/// A [`FileError`] with the line, the column and the field, if the text is no shelf, or if its entries cannot
/// be told from each other.
pub fn parse_shelf(text: &str) -> Result<ReadShelf, FileError> {
    let text = sound(text)?;
    let map = Map::of(text);
    let read = Reading { text, map: &map };
    let (version, list) = read.frame()?;
    let entries = map.entries(list);
    // Where commas are missing between entries, the reader that took all of them says so.
    let entries = entries.ok_or_else(|| read.refusal_of_all())?;
    let checked = Shelf::check_frame(version, entries.len());
    checked.map_err(|problem| {
        let node = map.find(&problem.field);
        located(problem, text, node)
    })?;
    let mut shelf = Shelf::empty();
    let (mut kept, mut troubles) = (Vec::new(), Vec::new());
    for (index, &entry) in entries.iter().enumerate() {
        match read.plate(index, entry) {
            Ok(plate) => {
                shelf.plates.push(plate);
                kept.push(index);
            }
            Err(error) => troubles.push(Trouble {
                index,
                name: read.name(index, entry),
                error,
                set_aside: true,
            }),
        }
    }
    for (later, earlier) in shelf.same_names() {
        let index = kept[later];
        let field = format!("plates[{index}].name");
        let node = map.find_in(entries[index], &field);
        let error = FileError::new(
            format!("Entry {} has the same name.", kept[earlier] + 1),
            "Give each plate a name of its own; until then a number tells them apart.",
        );
        troubles.push(Trouble {
            index,
            name: Some(shelf.plates[later].name.clone()),
            error: error
                .at(Place::of(text, node.unwrap_or(entries[index]).value))
                .about(field),
            set_aside: false,
        });
    }
    troubles.sort_by_key(|trouble| trouble.index);
    Ok(ReadShelf { shelf, troubles })
}

/// The text of a shelf that is being read.
struct Reading<'a> {
    text: &'a str,
    map: &'a Map<'a>,
}

impl<'a> Reading<'a> {
    /// The version, and the list of entries, in a text that is a shelf but for these.
    fn frame(&self) -> Result<(u32, &'a Node<'a>), FileError> {
        let list = self.map.find("plates").filter(|list| {
            let written = self.map.value(list);
            list.is_group && written.starts_with('[')
        });
        let list = list.filter(|_| !self.map.unclosed);
        let list = list.ok_or_else(|| self.refusal_of_all())?;
        let without = format!("{}[]{}", &self.text[..list.value], &self.text[list.end..]);
        match ron::from_str::<Shelf>(&without) {
            Ok(shelf) => Ok((shelf.version, list)),
            Err(_) => Err(self.refusal_of_all()),
        }
    }

    /// Why the text as a whole cannot be read.
    fn refusal_of_all(&self) -> FileError {
        match ron::from_str::<Shelf>(self.text) {
            Err(error) => explain(self.text, self.map, &error),
            Ok(_) => FileError::new(
                "The list of plates cannot be found in this shelf.",
                "Write it as `plates: […]`.",
            ),
        }
    }

    /// The plate of an entry, if it can be tried.
    fn plate(&self, index: usize, entry: &Node<'_>) -> Result<ShelfPlate, FileError> {
        let head = self.head();
        let piece = format!("{head}{}", self.map.value(entry));
        let plate: ShelfPlate = ron::from_str(&piece).map_err(|error: SpannedError| {
            let starts = [head.len(), entry.value];
            explain_piece(self.text, self.map, &piece, starts, &error)
        })?;
        let checked = plate.check(&format!("plates[{index}]"));
        checked.map_err(|problem| {
            let node = self.map.find_in(entry, &problem.field);
            located(problem, self.text, node)
        })?;
        Ok(plate)
    }

    /// What stands before the shelf: the extensions that its entries are read with.
    fn head(&self) -> &str {
        let start = self.map.find("").map_or(0, |shelf| shelf.start);
        &self.text[..start]
    }

    /// The name of an entry, where it can be read.
    fn name(&self, index: usize, entry: &Node<'_>) -> Option<String> {
        let node = self.map.find_in(entry, &format!("plates[{index}].name"))?;
        ron::from_str(self.map.value(node)).ok()
    }
}

//! The names of a shelf's plates, told apart where several have one.

use std::collections::{BTreeMap, BTreeSet};

use super::plate::Shelf;
use crate::project::LONGEST_NAME;

impl Shelf {
    /// What to call each plate, in their order: by its name, a second one of a name with a number behind it,
    /// one without a name by its place on the shelf.
    pub fn names_apart(&self) -> Vec<String> {
        let mut taken: BTreeSet<String> = self.own_names().map(str::to_owned).collect();
        let mut seen = BTreeSet::new();
        let apart = self.plates.iter().enumerate().map(|(index, plate)| {
            let name = match plate.name.trim() {
                "" => format!("Plate {}", index + 1),
                name => name.to_owned(),
            };
            if seen.insert(name.clone()) {
                return name;
            }
            let numbered = numbered(&name, &taken);
            taken.insert(numbered.clone());
            numbered
        });
        apart.collect()
    }

    /// Every plate whose name an earlier one has, and that one, by index.
    pub fn same_names(&self) -> Vec<(usize, usize)> {
        let mut first = BTreeMap::new();
        let named = self.plates.iter().map(|plate| plate.name.trim());
        let named = named.enumerate().filter(|(_, name)| !name.is_empty());
        named
            .filter_map(|(index, name)| {
                let earlier = *first.entry(name).or_insert(index);
                (earlier != index).then_some((index, earlier))
            })
            .collect()
    }

    /// A name like this one that no plate of the shelf has: itself, or with a number behind it.
    pub fn free_name(&self, name: &str) -> String {
        let taken: BTreeSet<String> = self.own_names().map(str::to_owned).collect();
        if taken.contains(name.trim()) {
            numbered(name.trim(), &taken)
        } else {
            name.to_owned()
        }
    }

    fn own_names(&self) -> impl Iterator<Item = &str> {
        self.plates.iter().map(|plate| plate.name.trim())
    }
}

/// A name with the smallest number from 2 behind it that none of those taken has; cut where it would be too
/// long for a plate.
fn numbered(name: &str, taken: &BTreeSet<String>) -> String {
    let mut number = 2_usize;
    loop {
        let end = format!(" ({number})");
        let room = LONGEST_NAME - end.chars().count();
        let cut: String = name.chars().take(room).collect();
        let with_number = cut + &end;
        if !taken.contains(&with_number) {
            return with_number;
        }
        number += 1;
    }
}

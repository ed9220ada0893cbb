//! Parts that are made alike: each kind is one solid, which says how often it is needed.

/// One kind of part.
pub(super) struct Kind<T> {
    /// The part.
    pub(super) part: T,
    /// What uses it, once for each that is needed.
    users: Vec<String>,
    /// Whether there is no other kind.
    only: bool,
}

impl<T> Kind<T> {
    /// The kinds of parts, each with what uses it, in the order in which they come first.
    pub(super) fn sort(
        parts: impl IntoIterator<Item = (T, String)>,
        alike: impl Fn(&T, &T) -> bool,
    ) -> Vec<Self> {
        let mut kinds: Vec<Self> = Vec::new();
        for (part, user) in parts {
            match kinds.iter_mut().find(|kind| alike(&kind.part, &part)) {
                Some(kind) => kind.users.push(user),
                None => kinds.push(Self {
                    part,
                    users: vec![user],
                    only: false,
                }),
            }
        }
        let only = kinds.len() == 1;
        kinds.iter_mut().for_each(|kind| kind.only = only);
        kinds
    }

    /// How many of it are needed.
    pub(super) fn count(&self) -> usize {
        self.users.len()
    }

    /// What it is called: the noun alone, or with what uses it where there are other kinds.
    pub(super) fn name(&self, noun: &str) -> String {
        if self.only {
            noun.to_owned()
        } else {
            format!("{noun} for {}", self.users())
        }
    }

    /// What uses it, in words: one or two by name, of more the first, and how many others.
    pub(super) fn users(&self) -> String {
        let mut users = self.users.clone();
        users.dedup();
        match &users[..] {
            [first, _, _, ..] => format!("{first} and {} more", users.len() - 1),
            _ => users.join(" and "),
        }
    }
}

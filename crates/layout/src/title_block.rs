//! What the sheet's title block says.

use serde::{Deserialize, Serialize};

/// The fields of a title block after ISO 7200 that only the maker knows. All may be blank.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct TitleBlock {
    /// Legal owner of the drawing.
    pub owner: String,
    /// Identification number.
    pub number: String,
    /// Who drew it.
    pub creator: String,
    /// Who approved it.
    pub approved_by: String,
}

impl TitleBlock {
    /// Whether nothing has been entered.
    pub fn is_blank(&self) -> bool {
        *self == Self::default()
    }
}

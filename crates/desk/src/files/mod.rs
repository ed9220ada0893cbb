//! Projects as files: RON in, RON out, and nothing lost on the way.

mod disk;
pub mod drawing;
mod error;
mod explain;
mod folder;
mod locate;
mod parse;
mod picture;
mod replace;
mod shelf;
mod text;
mod version;

pub(crate) use disk::text_of;
pub use disk::{LARGEST_FILE, read, save};
pub use error::{FileError, Place};
pub(crate) use folder::in_folder;
pub use parse::parse;
pub use picture::{with_picture_found, with_picture_relative};
pub use replace::{Backup, backup_of, replace, replace_all};
pub use shelf::{ReadShelf, Trouble, parse_shelf, read_shelf, save_shelf};
pub use text::{shelf_text, to_text};

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
mod text;
mod version;

pub(crate) use disk::text_of;
pub use disk::{LARGEST_FILE, read, read_shelf, save, save_shelf};
pub use error::{FileError, Place};
pub(crate) use folder::in_folder;
pub use parse::{parse, parse_shelf};
pub use picture::{with_picture_found, with_picture_relative};
pub use replace::{Backup, backup_of, replace, replace_all};
pub use text::{shelf_text, to_text};

//! The window.

mod app;
mod column;
mod command;
mod controls;
mod dialogs;
mod expression;
mod file_menu;
mod file_work;
mod findings;
mod inspector;
mod left_copies;
pub mod mark;
mod notice;
mod number_field;
mod pictures;
mod pieces;
mod plain;
mod printing;
mod recent;
mod recovery;
mod start;
pub mod state;
pub mod step;
mod surroundings;
mod text_field;
pub mod theme;
mod thread;
mod top_bar;
mod viewing;
pub mod views;
pub mod work;

pub use app::App;
pub use command::Command;
pub use recovery::COPY_INTERVAL;
pub use start::{LEAST_SIZE, START_SIZE, StartError, run};
pub use surroundings::{Dialogs, Surroundings, Viewer};

//! The window.

mod app;
mod column;
mod command;
mod controls;
mod dialogs;
mod expression;
mod file_work;
mod findings;
mod inspector;
pub mod mark;
mod notice;
mod number_field;
mod pieces;
mod plain;
mod start;
pub mod state;
pub mod step;
mod text_field;
pub mod theme;
mod thread;
mod top_bar;
mod viewing;
pub mod views;

pub use app::App;
pub use command::Command;
pub use file_work::Dialogs;
pub use start::{LEAST_SIZE, START_SIZE, StartError, run};

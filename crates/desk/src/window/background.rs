//! Work that goes on off the window's thread.

use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use egui::Context;

/// Work under way. Whoever drops it no longer wants its answer.
pub(crate) struct Background<T> {
    answer: Receiver<T>,
}

impl<T: Send + 'static> Background<T> {
    /// Starts it. The window is shown anew when it is done.
    pub(crate) fn start(ctx: &Context, work: impl FnOnce() -> T + Send + 'static) -> Self {
        let (sender, answer) = mpsc::channel();
        let ctx = ctx.clone();
        thread::spawn(move || {
            // The window may be gone by now: then nobody wants the answer.
            let _ = sender.send(work());
            ctx.request_repaint();
        });
        Self { answer }
    }

    /// What came of it, once it is done: None if it came to no end. Nothing while it goes on.
    pub(crate) fn done(&self) -> Option<Option<T>> {
        match self.answer.try_recv() {
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(None),
            Ok(answer) => Some(Some(answer)),
        }
    }
}

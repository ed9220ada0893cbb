//! Work that goes on off the window's thread.

use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use egui::Context;

/// Work under way, and what it is about. Whoever drops it no longer wants its answer.
pub(crate) struct Background<K, T> {
    about: K,
    answer: Receiver<T>,
}

impl<K, T: Send + 'static> Background<K, T> {
    /// Starts it. The window is shown anew when it is done.
    pub(crate) fn start(
        ctx: &Context,
        about: K,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Self {
        let (sender, answer) = mpsc::channel();
        let ctx = ctx.clone();
        thread::spawn(move || {
            // The window may be gone by now: then nobody wants the answer.
            let _ = sender.send(work());
            ctx.request_repaint();
        });
        Self { about, answer }
    }

    /// Takes away what is done: what it was about and what came of it, None if it came to no end. Nothing while
    /// it goes on.
    pub(crate) fn take_done(under_way: &mut Option<Self>) -> Option<(K, Option<T>)> {
        let done = match under_way.as_ref()?.answer.try_recv() {
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => None,
            Ok(answer) => Some(answer),
        };
        Some((under_way.take()?.about, done))
    }
}

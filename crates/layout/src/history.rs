//! Undo: every finished gesture is one labelled step.

use crate::edit::Edit;
use crate::problem::Problem;
use crate::project::Project;

/// How many steps can be taken back.
const DEPTH: usize = 500;

/// A project with its past and its future.
#[derive(Clone, Debug)]
pub struct History {
    present: Project,
    saved: Option<Project>,
    past: Vec<Step>,
    future: Vec<Step>,
    gesture: Option<Gesture>,
    revision: u64,
}

#[derive(Clone, Debug)]
struct Step {
    label: String,
    project: Project,
}

#[derive(Clone, Debug)]
struct Gesture {
    before: Project,
    label: Option<String>,
}

impl History {
    /// Starts with a project. `saved` says whether a file holds it as it is.
    pub fn new(project: Project, saved: bool) -> Self {
        Self {
            saved: saved.then(|| project.clone()),
            present: project,
            past: Vec::new(),
            future: Vec::new(),
            gesture: None,
            revision: 0,
        }
    }

    /// The project as it stands.
    pub fn project(&self) -> &Project {
        &self.present
    }

    /// Grows with every change of the project: equal revisions hold equal projects.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Starts a gesture: what is applied until [`History::finish`] becomes one step.
    pub fn begin(&mut self) {
        if self.gesture.is_none() {
            self.gesture = Some(Gesture {
                before: self.present.clone(),
                label: None,
            });
        }
    }

    /// Makes a change: a step of its own, or part of the gesture under way.
    ///
    /// # Errors
    /// As [`Edit::apply`]; the project then stays as it was.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), Problem> {
        let next = edit.apply(&self.present)?;
        if next == self.present {
            return Ok(());
        }
        match &mut self.gesture {
            Some(gesture) => gesture.label = Some(edit.label()),
            None => self.push(edit.label(), self.present.clone()),
        }
        self.replace(next);
        Ok(())
    }

    /// Ends a gesture; it becomes a step if it changed anything.
    pub fn finish(&mut self) {
        if let Some(Gesture { before, label }) = self.gesture.take()
            && before != self.present
        {
            self.push(label.unwrap_or_default(), before);
        }
    }

    /// Ends a gesture and puts back what was before it.
    pub fn cancel(&mut self) {
        if let Some(Gesture { before, .. }) = self.gesture.take()
            && before != self.present
        {
            self.replace(before);
        }
    }

    /// Whether a gesture is under way.
    pub fn in_gesture(&self) -> bool {
        self.gesture.is_some()
    }

    /// What [`History::undo`] would take back.
    pub fn undo_label(&self) -> Option<&str> {
        self.past.last().map(|step| step.label.as_str())
    }

    /// What [`History::redo`] would do again.
    pub fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|step| step.label.as_str())
    }

    /// Takes the last step back.
    pub fn undo(&mut self) {
        self.finish();
        if let Some(Step { label, project }) = self.past.pop() {
            self.future.push(Step {
                label,
                project: self.present.clone(),
            });
            self.replace(project);
        }
    }

    /// Does the last step that was taken back again.
    pub fn redo(&mut self) {
        self.finish();
        if let Some(Step { label, project }) = self.future.pop() {
            self.past.push(Step {
                label,
                project: self.present.clone(),
            });
            self.replace(project);
        }
    }

    /// Notes that a file holds the project as it stands.
    pub fn mark_saved(&mut self) {
        self.saved = Some(self.present.clone());
    }

    /// Whether a file holds the project as it stands.
    pub fn is_saved(&self) -> bool {
        self.saved.as_ref() == Some(&self.present)
    }

    fn push(&mut self, label: String, before: Project) {
        if self.past.len() == DEPTH {
            self.past.remove(0);
        }
        self.past.push(Step {
            label,
            project: before,
        });
        self.future.clear();
    }

    fn replace(&mut self, project: Project) {
        self.present = project;
        self.revision += 1;
    }
}

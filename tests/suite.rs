//! What must hold across the workspace.

//! Why a command could not run.

use output::sheet::SheetError;

use crate::files::FileError;

/// One sentence of the cause, one of the mend.
#[derive(Debug)]
pub(super) struct Failure {
    pub(super) cause: String,
    pub(super) remedy: String,
}

impl From<FileError> for Failure {
    fn from(error: FileError) -> Self {
        Self {
            cause: error.to_string(),
            remedy: error.remedy().to_owned(),
        }
    }
}

impl From<SheetError> for Failure {
    fn from(error: SheetError) -> Self {
        Self {
            cause: error.to_string(),
            remedy: error.remedy().to_owned(),
        }
    }
}

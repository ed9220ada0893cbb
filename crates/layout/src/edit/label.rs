//! What undo calls a change.

use super::{Edit, HoleChange};

impl Edit {
    /// What undo calls the change.
    pub fn label(&self) -> String {
        match self {
            Self::Rename(_) => "name".to_owned(),
            Self::Set(field, _) => lower_first(field.label()),
            Self::Spacing { .. } => "spacing".to_owned(),
            Self::Move { handle, .. } => format!("move {}", handle.noun()),
            Self::MovePlace { place, .. } => format!("move {}", place.noun()),
            Self::Remove { handle, .. } => format!("remove {}", handle.noun()),
            Self::AddEye(_) => "add eye".to_owned(),
            Self::AddSlot { .. } => "add slot".to_owned(),
            Self::PlaceSlots(_) => "place slots".to_owned(),
            Self::LockSlot { locked: true, .. } => "lock slot".to_owned(),
            Self::LockSlot { locked: false, .. } => "unlock slot".to_owned(),
            Self::AddAnchorHole { .. } => "add anchor hole".to_owned(),
            Self::AddOutlinePoint { curve, .. } => format!("add point to {}", curve.noun()),
            Self::Draft(Some(draft)) => format!("draw {}", draft.curve.noun()),
            Self::Draft(None) => "drop drawn points".to_owned(),
            Self::CloseDraft { .. } => "close drawn outline".to_owned(),
            Self::StartOutline { .. } => "start head outline".to_owned(),
            Self::Outline { curve, .. } => format!("new {}", curve.noun()),
            Self::MirrorOutline { curve, .. } => format!("mirror {}", curve.noun()),
            Self::Smooth(curve, _) => format!("smooth {}", curve.noun()),
            Self::SeatKind(..) => "seat".to_owned(),
            Self::Ring(..) => "ring".to_owned(),
            Self::Lids(..) => "lids".to_owned(),
            Self::AddDrive { .. } => "add drive".to_owned(),
            Self::Drive { .. } => "drive".to_owned(),
            Self::SetDrive { field, .. } => lower_first(field.label()),
            Self::SetRoute { .. } => "route".to_owned(),
            Self::LockRoute { locked: true, .. } => "lock route".to_owned(),
            Self::LockRoute { locked: false, .. } => "unlock route".to_owned(),
            Self::RemoveDrive { .. } => "remove drive".to_owned(),
            Self::AddRod(_) => "add rod".to_owned(),
            Self::Rod(..) => "rod".to_owned(),
            Self::MoveRodEnd { end, .. } => format!("move {} of rod", end.noun()),
            Self::RemoveRod(_) => "remove rod".to_owned(),
            Self::GuardAxis(_) => "turn guard".to_owned(),
            Self::Together(_) => "turns used together".to_owned(),
            Self::PlateStyle(_) => "plate outline".to_owned(),
            Self::TrimToHead(_) => "trim to head".to_owned(),
            Self::Padded(_) => "pads of the plate".to_owned(),
            Self::PlateHole(_, HoleChange::Forget) => "forget cable hole".to_owned(),
            Self::PlateHole(_, HoleChange::Widen) => "widen cable hole".to_owned(),
            Self::LeadTo { .. } => "lead tie".to_owned(),
            Self::ResetLimit(_) => "reset limit".to_owned(),
            Self::SeatedBy(_) => "what seats the eyes".to_owned(),
            Self::Tracing(Some(_)) => "tracing picture".to_owned(),
            Self::Tracing(None) => "remove tracing picture".to_owned(),
            Self::Workshop(_) => "workshop".to_owned(),
            Self::TitleBlock(_) => "title block".to_owned(),
            Self::TakePlate(_) => "take plate from shelf".to_owned(),
        }
    }
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_lowercase().chain(chars).collect())
        .unwrap_or_default()
}

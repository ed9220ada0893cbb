//! The typeface of all drawings.

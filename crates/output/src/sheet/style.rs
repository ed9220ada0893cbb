//! Line widths, letter heights and distances of the sheet, mm.

/// Width of wide lines: what is cut, and the frame. A pair of the ISO 128 series with [`NARROW`], 2 : 1.
pub(super) const WIDE: f64 = 0.5;
/// Width of narrow lines: everything else.
pub(super) const NARROW: f64 = 0.25;

/// Width of the lines of a small picture: the step below [`NARROW`] in the series.
pub(super) const FINE: f64 = 0.18;

/// Letter heights of the ISO 3098 series: titles.
pub(super) const TITLE: f64 = 3.5;
/// Dimensions and fields.
pub(super) const FIGURE: f64 = 2.5;
/// Tables, notes and captions.
pub(super) const NOTE: f64 = 1.8;
/// Distance of the baselines of two lines of text, in letter heights (ISO 3098, type B: 19/10).
pub(super) const LINE_PITCH: f64 = 1.9;

/// From the page's edge to the frame's centre line: with half of the frame's width taken off it is
/// still more than the 7 mm that no usual printer reaches beyond.
pub(super) const FRAME_MARGIN: f64 = 8.0;
/// From the frame, or one part of the sheet, to the next.
pub(super) const PART_GAP: f64 = 2.5;

/// From the outline to the first dimension line, at least this (BIS/ISO 129, as reported).
pub(super) const FIRST_DIMENSION: f64 = 10.0;
/// Between parallel dimension lines, at least this (BIS/ISO 129, as reported).
pub(super) const NEXT_DIMENSION: f64 = 8.0;
/// From the outline to its extension line: ISO 129-1 allows about eight line widths (from memory), and
/// half of them part the two plainly.
pub(super) const EXTENSION_GAP: f64 = 1.0;
/// How far an extension line runs past the dimension line: eight narrow line widths (ISO 129-1, from
/// memory).
pub(super) const EXTENSION_PAST: f64 = 2.0;
/// Length of an arrowhead: at least three line widths (BIS/ISO 129, as reported).
pub(super) const ARROW_LENGTH: f64 = 2.5;
/// Half of an arrowhead's width: an included angle of 20°, at least 15° (BIS/ISO 129, as reported).
pub(super) const ARROW_HALF_WIDTH: f64 = 0.44;
/// How far a centre line runs past what it halves.
pub(super) const CENTRE_PAST: f64 = 2.5;
/// From a text to the line it stands on or beside.
pub(super) const TEXT_GAP: f64 = 0.9;
/// Room that a text keeps to other texts and to lines.
pub(super) const TEXT_ROOM: f64 = 0.5;

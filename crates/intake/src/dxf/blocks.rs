//! Draws the model's entities, and blocks wherever they are inserted.

use kurbo::{Affine, Vec2};

use super::entities::{Drawn, draw_one, facing};
use super::sections::{Entity, Sections};
use crate::IntakeError;
use crate::curve::{Curve, Drawing};
use crate::shapes::left_out;

/// Deepest that blocks may be inserted in each other.
const DEEPEST: usize = 16;

/// Most entities that are drawn, each as often as its block is inserted.
const MOST_ENTITIES: usize = 100_000;

/// Draws everything that is not hidden.
pub(super) fn draw(sections: &Sections<'_>) -> Result<Drawing, IntakeError> {
    let mut pen = Pen {
        sections,
        drawing: Drawing::new(sections.unit, Vec::new()),
        drawn: 0,
        tilted: 0,
    };
    pen.draw(&sections.entities, Affine::IDENTITY, None, 0)?;
    let tilted = left_out(
        pen.tilted,
        "piece that lies aslant in space",
        "pieces that lie aslant in space",
    );
    pen.drawing.notes.extend(tilted);
    Ok(pen.drawing)
}

struct Pen<'a> {
    sections: &'a Sections<'a>,
    drawing: Drawing,
    drawn: usize,
    tilted: usize,
}

impl Pen<'_> {
    /// Draws entities moved by `map`; those on layer 0 of a block take the layer that it is inserted on.
    fn draw(
        &mut self,
        entities: &[Entity<'_>],
        map: Affine,
        inserted_on: Option<&str>,
        depth: usize,
    ) -> Result<(), IntakeError> {
        for entity in entities {
            self.drawn += 1;
            if self.drawn > MOST_ENTITIES {
                return Err(IntakeError::too_many_copies(MOST_ENTITIES));
            }
            let layer = match entity.layer() {
                "0" => inserted_on.unwrap_or("0"),
                own => own,
            };
            let invisible = entity.whole(60)? == 1;
            let on_paper = entity.whole(67)? == 1;
            if invisible || on_paper || self.sections.hidden.contains(&layer.to_uppercase()) {
                continue;
            }
            if entity.kind == "INSERT" {
                self.insert(entity, map, layer, depth)?;
                continue;
            }
            match draw_one(entity)? {
                Drawn::Aslant => self.tilted += 1,
                Drawn::Pieces { pieces, closed } => self.drawing.add(Curve {
                    pieces: pieces.into_iter().map(|piece| map * piece).collect(),
                    closed,
                    name: Some(format!("layer {layer}")),
                })?,
            }
        }
        Ok(())
    }

    /// Draws a block once for each place of its rows and columns.
    fn insert(
        &mut self,
        insert: &Entity<'_>,
        map: Affine,
        layer: &str,
        depth: usize,
    ) -> Result<(), IntakeError> {
        let name = insert.find(2).map_or("", |name| name.value);
        let Some(block) = self.sections.blocks.get(&name.to_uppercase()) else {
            let sentence = format!("The block “{name}” is not in the file and was left out.");
            if !self.drawing.notes.contains(&sentence) {
                self.drawing.notes.push(sentence);
            }
            return Ok(());
        };
        if depth == DEEPEST {
            return Err(IntakeError::too_deep(DEEPEST));
        }
        let Some(facing) = facing(insert)? else {
            self.tilted += 1;
            return Ok(());
        };
        let place = map
            * facing
            * Affine::translate(insert.point(10)?.to_vec2())
            * Affine::rotate(insert.number_or(50, 0.0)?.to_radians());
        let own = Affine::scale_non_uniform(insert.number_or(41, 1.0)?, insert.number_or(42, 1.0)?)
            * Affine::translate(-block.base);
        let step = Vec2::new(insert.number_or(44, 0.0)?, insert.number_or(45, 0.0)?);
        let (columns, rows) = (insert.whole(70)?.max(1), insert.whole(71)?.max(1));
        for column in 0..columns {
            for row in 0..rows {
                // A block without entities takes time, too.
                self.drawn += 1;
                let by = Vec2::new(column as f64 * step.x, row as f64 * step.y);
                let map = place * Affine::translate(by) * own;
                self.draw(&block.entities, map, Some(layer), depth + 1)?;
                if self.drawn > MOST_ENTITIES {
                    return Err(IntakeError::too_many_copies(MOST_ENTITIES));
                }
            }
        }
        Ok(())
    }
}

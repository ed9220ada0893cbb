//! The sections of a DXF: its unit, its hidden layers, its blocks and its entities.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Vec2};

use super::pairs::Pair;
use crate::IntakeError;
use crate::unit::INCH;

/// One drawn thing: a line, a circle, a copy of a block.
#[derive(Clone, Debug)]
pub(super) struct Entity<'a> {
    /// What it is, in capitals, such as `LINE`.
    pub(super) kind: &'a str,
    /// The line of the file on which it starts.
    pub(super) line: usize,
    /// What is said of it.
    pub(super) pairs: &'a [Pair<'a>],
    /// The corners that follow a `POLYLINE`.
    pub(super) corners: Vec<&'a [Pair<'a>]>,
}

/// Entities that are drawn wherever they are inserted.
#[derive(Debug, Default)]
pub(super) struct Block<'a> {
    /// The point of the block that comes to lie where it is inserted.
    pub(super) base: Vec2,
    /// What it draws.
    pub(super) entities: Vec<Entity<'a>>,
}

/// What a file says.
#[derive(Debug, Default)]
pub(super) struct Sections<'a> {
    /// Millimetres of one unit, if the header says so.
    pub(super) unit: Option<f64>,
    /// Names of the layers that are frozen or off, in capitals.
    pub(super) hidden: BTreeSet<String>,
    /// Blocks by their names, in capitals.
    pub(super) blocks: BTreeMap<String, Block<'a>>,
    /// What the model holds.
    pub(super) entities: Vec<Entity<'a>>,
}

impl Entity<'_> {
    /// The first value with this code.
    pub(super) fn find(&self, code: i32) -> Option<&Pair<'_>> {
        self.pairs.iter().find(|pair| pair.code == code)
    }

    /// The number with this code.
    pub(super) fn number(&self, code: i32) -> Result<Option<f64>, IntakeError> {
        self.find(code).map(Pair::number).transpose()
    }

    /// The number with this code, or `usual` where none is given.
    pub(super) fn number_or(&self, code: i32, usual: f64) -> Result<f64, IntakeError> {
        Ok(self.number(code)?.unwrap_or(usual))
    }

    /// The number with this code, which must be given.
    pub(super) fn needed(&self, code: i32) -> Result<f64, IntakeError> {
        self.number(code)?.ok_or_else(|| {
            IntakeError::broken(format!(
                "The {} on line {} lacks its value {code}",
                self.kind, self.line
            ))
        })
    }

    /// The whole number with this code, or 0.
    pub(super) fn whole(&self, code: i32) -> Result<i64, IntakeError> {
        Ok(self.find(code).map(Pair::whole).transpose()?.unwrap_or(0))
    }

    /// The point whose x has this code, and whose y has the code 10 above; the origin if none is given.
    pub(super) fn point(&self, code: i32) -> Result<Point, IntakeError> {
        Ok(Point::new(
            self.number_or(code, 0.0)?,
            self.number_or(code + 10, 0.0)?,
        ))
    }

    /// The name of its layer.
    pub(super) fn layer(&self) -> &str {
        self.find(8).map_or("0", |pair| pair.value)
    }
}

/// Reads all sections that matter.
pub(super) fn read<'a>(pairs: &'a [Pair<'a>]) -> Result<Sections<'a>, IntakeError> {
    let mut sections = Sections::default();
    for section in pairs.split(|pair| (pair.code, pair.value) == (0, "SECTION")) {
        let Some((name, body)) = section.split_first() else {
            continue;
        };
        let end = body
            .iter()
            .position(|pair| (pair.code, pair.value) == (0, "ENDSEC"));
        let Some(end) = end else {
            let last = section.last().map_or(name.line, |pair| pair.line);
            return Err(IntakeError::cut_off(last + 1));
        };
        let body = &body[..end];
        match (name.code, name.value) {
            (2, "HEADER") => sections.unit = unit(body)?,
            (2, "TABLES") => sections.hidden = hidden_layers(body)?,
            (2, "BLOCKS") => sections.blocks = blocks(body)?,
            (2, "ENTITIES") => sections.entities = entities(body),
            _ => {}
        }
    }
    Ok(sections)
}

/// Millimetres of the header's `$INSUNITS`.
fn unit(header: &[Pair<'_>]) -> Result<Option<f64>, IntakeError> {
    let at = header
        .iter()
        .position(|pair| (pair.code, pair.value) == (9, "$INSUNITS"));
    let Some(value) = at.and_then(|at| header.get(at + 1)) else {
        return Ok(None);
    };
    Ok(match value.whole()? {
        1 => Some(INCH),
        2 => Some(12.0 * INCH),
        4 => Some(1.0),
        5 => Some(10.0),
        6 => Some(1e3),
        9 => Some(INCH / 1e3),
        10 => Some(36.0 * INCH),
        13 => Some(1e-3),
        14 => Some(100.0),
        // 0 says that there is none; no head is drawn in miles or light years.
        _ => None,
    })
}

fn hidden_layers(tables: &[Pair<'_>]) -> Result<BTreeSet<String>, IntakeError> {
    const FROZEN: i64 = 1;
    let mut hidden = BTreeSet::new();
    for layer in entities(tables)
        .iter()
        .filter(|entity| entity.kind == "LAYER")
    {
        // A layer that is off has the negative of its colour.
        if layer.whole(70)? & FROZEN != 0 || layer.whole(62)? < 0 {
            hidden.extend(layer.find(2).map(|name| name.value.to_uppercase()));
        }
    }
    Ok(hidden)
}

fn blocks<'a>(body: &'a [Pair<'a>]) -> Result<BTreeMap<String, Block<'a>>, IntakeError> {
    let mut blocks: BTreeMap<String, Block<'a>> = BTreeMap::new();
    let mut open: Option<(String, Block<'a>)> = None;
    for entity in entities(body) {
        match entity.kind {
            "BLOCK" => {
                let name = entity.find(2).map_or("", |name| name.value).to_uppercase();
                let base = entity.point(10)?.to_vec2();
                open = Some((
                    name,
                    Block {
                        base,
                        entities: Vec::new(),
                    },
                ));
            }
            "ENDBLK" => blocks.extend(open.take()),
            _ => {
                if let Some((_, block)) = &mut open {
                    block.entities.push(entity);
                }
            }
        }
    }
    Ok(blocks)
}

/// The entities of a section; corners lie with their polyline.
fn entities<'a>(body: &'a [Pair<'a>]) -> Vec<Entity<'a>> {
    let starts: Vec<usize> = (0..body.len()).filter(|&at| body[at].code == 0).collect();
    let mut entities: Vec<Entity<'a>> = Vec::with_capacity(starts.len());
    for (number, &start) in starts.iter().enumerate() {
        let end = starts.get(number + 1).copied().unwrap_or(body.len());
        let pairs = &body[start + 1..end];
        match (body[start].value, entities.last_mut()) {
            ("VERTEX", Some(polyline)) => polyline.corners.push(pairs),
            ("VERTEX" | "SEQEND", _) => {}
            (kind, _) => entities.push(Entity {
                kind,
                line: body[start].line,
                pairs,
                corners: Vec::new(),
            }),
        }
    }
    entities
}

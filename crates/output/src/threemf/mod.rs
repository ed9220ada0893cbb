//! Solids as one 3MF file: a package of three parts, one of them the model.
//!
//! Namespaces, types and rules are those of the 3MF Core Specification v1.4.0.

mod bed;
mod model;
mod package;

use crate::solid::Solid;

/// What kind of part an ending stands for.
const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"#;

/// Where a reader finds the model.
const RELATIONSHIPS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rel0" Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"#;

/// Writes solids as named objects in millimetres, each placed on the bed as often as it is needed,
/// side by side. `title` is what the file is of. The same solids give the same bytes.
pub fn write(title: &str, solids: &[Solid]) -> Vec<u8> {
    package::zipped(&[
        ("[Content_Types].xml", CONTENT_TYPES),
        ("_rels/.rels", RELATIONSHIPS),
        ("3D/3dmodel.model", &model::xml(title, solids)),
    ])
}

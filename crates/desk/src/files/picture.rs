//! Where a project's tracing picture is: in a file, from the project's folder; in the window, in full.

use std::path::{Component, Path, PathBuf, absolute};

use layout::Project;

/// The project as the window has it: its picture's path in full.
pub fn with_picture_found(mut project: Project, file: Option<&Path>) -> Project {
    let folder = file.and_then(folder_of);
    if let (Some(tracing), Some(folder)) = (&mut project.tracing, folder) {
        tracing.picture = folder.join(&tracing.picture).display().to_string();
    }
    project
}

/// The project as `file` holds it: its picture's path from the file's folder, with `/` between
/// folders; in full where no way leads there, as from one drive to another.
pub fn with_picture_relative(mut project: Project, file: &Path) -> Project {
    if let (Some(tracing), Some(folder)) = (&mut project.tracing, folder_of(file)) {
        let picture = PathBuf::from(&tracing.picture);
        let way = pathdiff::diff_paths(&picture, folder).filter(|_| picture.is_absolute());
        tracing.picture = way.map_or_else(|| tracing.picture.clone(), |way| slashed(&way));
    }
    project
}

/// The folder of a file, in full.
fn folder_of(file: &Path) -> Option<PathBuf> {
    absolute(file).ok()?.parent().map(Path::to_owned)
}

fn slashed(way: &Path) -> String {
    if way.has_root() {
        return way.display().to_string();
    }
    let names = way.components().map(|part| match part {
        Component::ParentDir => "..".to_owned(),
        part => part.as_os_str().to_string_lossy().into_owned(),
    });
    names.collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout::tracing::Tracing;

    fn project(picture: &str) -> Project {
        let mut project = crate::samples::DEFAULT.project();
        project.tracing = Some(Tracing {
            picture: picture.to_owned(),
            at: [0.0, 0.0],
            mm_per_pixel: 0.2,
            angle: layout::Degrees(0.0),
            strength: 0.5,
        });
        project
    }

    fn picture(project: Project) -> String {
        project.tracing.expect("a picture").picture
    }

    #[test]
    fn a_picture_keeps_its_way_from_the_projects_folder() {
        let found = with_picture_found(project("shots/head.png"), Some(Path::new("/plays/a.ron")));
        assert_eq!(picture(found.clone()), "/plays/shots/head.png");
        let near = with_picture_relative(found.clone(), Path::new("/plays/a.ron"));
        assert_eq!(picture(near), "shots/head.png");
        let aside = with_picture_relative(found, Path::new("/plays/plates/b.ron"));
        assert_eq!(picture(aside), "../shots/head.png");
    }

    #[test]
    fn a_project_without_a_file_keeps_the_path_in_full() {
        let found = with_picture_found(project("/scans/head.png"), None);
        assert_eq!(picture(found), "/scans/head.png");
    }
}

//! Pictures to trace: PNG and JPEG files as pixels.

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

/// Widest and highest picture that is read, pixels: four times a good camera's.
const LARGEST_SIDE: u32 = 32_768;

/// Most memory that a picture may take while it is read, bytes.
const MOST_MEMORY: u64 = 1 << 30;

/// A picture that was read.
pub struct Picture {
    /// Its width and height, pixels, upright as the camera was held.
    pub size: [u32; 2],
    /// Its pixels, perhaps fewer than its size says: no side is longer than was asked for.
    pub pixels: image::RgbaImage,
}

/// Width and height of a picture, pixels, upright; its pixels are not read.
///
/// # Errors
/// One sentence that names the file and says what is wrong, and one of the mend.
pub fn size(path: &Path) -> Result<[u32; 2], String> {
    let mut decoder = decoder(path)?;
    let (width, height) = decoder.dimensions();
    let turned = matches!(
        decoder.orientation(),
        Ok(Orientation::Rotate90
            | Orientation::Rotate270
            | Orientation::Rotate90FlipH
            | Orientation::Rotate270FlipH)
    );
    Ok(if turned {
        [height, width]
    } else {
        [width, height]
    })
}

/// Reads a picture, made smaller where a side is longer than `most` pixels.
///
/// # Errors
/// As [`size`].
pub fn read(path: &Path, most: u32) -> Result<Picture, String> {
    let mut decoder = decoder(path)?;
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut whole = DynamicImage::from_decoder(decoder).map_err(|error| broken(path, &error))?;
    whole.apply_orientation(orientation);
    let size = [whole.width(), whole.height()];
    let shown = if size[0].max(size[1]) > most {
        whole.thumbnail(most, most)
    } else {
        whole
    };
    Ok(Picture {
        size,
        pixels: shown.into_rgba8(),
    })
}

fn decoder(path: &Path) -> Result<impl ImageDecoder, String> {
    let name = path.display();
    let file = File::open(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => format!(
            "The tracing picture `{name}` is not there. Put it back, choose another, or remove it."
        ),
        _ => format!("The tracing picture `{name}` cannot be read: {error}. Choose another."),
    })?;
    let reader = ImageReader::new(BufReader::new(file)).with_guessed_format();
    let mut reader = reader.map_err(|error| {
        format!("The tracing picture `{name}` cannot be read: {error}. Choose another.")
    })?;
    if !matches!(reader.format(), Some(ImageFormat::Png | ImageFormat::Jpeg)) {
        return Err(format!(
            "`{name}` is neither a PNG nor a JPEG picture. Choose one of these."
        ));
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST_SIDE);
    limits.max_image_height = Some(LARGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    reader.into_decoder().map_err(|error| broken(path, &error))
}

fn broken(path: &Path, error: &image::ImageError) -> String {
    let name = path.display();
    match error {
        image::ImageError::Limits(_) => format!(
            "The tracing picture `{name}` is too large: at most {LARGEST_SIDE} pixels to a side are read. \
             Make it smaller."
        ),
        _ => format!("The tracing picture `{name}` is broken: {error}. Choose another."),
    }
}

//! A photo of cloth under the table's lines: to trace its outline, its holes and a pulled thread. Only what is traced is
//! kept; the photo itself is looked at and put away.

use std::path::PathBuf;

use egui::{Color32, Context, Rect, TextureHandle, TextureOptions};
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::cloth_drawn;
use petitoile_exchange::photo;

use super::paint::Brush;
use crate::background::Background;
use crate::files;

/// How wide a photo is shown before its scale is known, mm.
const BEFORE_SCALE: f64 = 400.0;

/// A photo on the table.
pub struct Photo {
    /// Name of its file.
    pub name: String,
    texture: TextureHandle,
    size: (f64, f64),
    /// How many mm a pixel is.
    pub mm_per_pixel: f64,
    /// Has the maker shown a known length in it?
    pub scaled: bool,
    /// The offcut that was traced in it.
    pub of: Option<String>,
}

/// A photo that was read, with its name; or why it could not be.
type ReadPhoto = Result<(String, photo::Photo), String>;

/// The photo, and the worker that reads it.
#[derive(Default)]
pub struct PhotoTable {
    reader: Option<Background<PathBuf, ReadPhoto>>,
    /// The photo on the table.
    pub photo: Option<Photo>,
}

impl PhotoTable {
    /// Begins to read a photo; the window stays alive.
    pub fn open(&mut self, ctx: &Context, file: PathBuf) {
        let wake = ctx.clone();
        let reader = self
            .reader
            .get_or_insert_with(|| Background::new("photo", read, move || wake.request_repaint()));
        reader.ask(file);
    }

    /// Is one being read?
    pub fn is_reading(&self) -> bool {
        self.reader.as_ref().is_some_and(Background::is_waiting)
    }

    /// Takes over what was read. `Some` says what is to be said, when it could not be read.
    pub fn collect(&mut self, ctx: &Context) -> Option<String> {
        match self.reader.as_mut()?.answer()? {
            Ok(Ok((name, read))) => {
                self.photo = Some(Photo::new(ctx, name, &read));
                None
            }
            Ok(Err(why)) => Some(why),
            Err(broken) => Some(broken.to_string()),
        }
    }
}

fn read(file: PathBuf) -> Result<(String, photo::Photo), String> {
    let name = file
        .file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let bytes = files::read_bytes(&file).map_err(|why| why.to_string())?;
    let read = photo::read(&bytes).map_err(|why| format!("{name}: {why}"))?;
    Ok((name, read))
}

impl Photo {
    fn new(ctx: &Context, name: String, read: &photo::Photo) -> Self {
        let image = egui::ColorImage::from_rgba_unmultiplied([read.width, read.height], &read.rgba);
        let size = (read.width.max(1) as f64, read.height.max(1) as f64);
        Self {
            texture: ctx.load_texture("cloth photo", image, TextureOptions::LINEAR),
            name,
            mm_per_pixel: BEFORE_SCALE / size.0,
            size,
            scaled: false,
            of: None,
        }
    }

    /// Its width and height, mm.
    pub fn size_mm(&self) -> Vec2 {
        Vec2::new(self.size.0, self.size.1) * self.mm_per_pixel
    }

    /// Takes its scale from two points a known length apart; gives by how much everything grows.
    ///
    /// # Errors
    /// Why not, in words.
    pub fn set_scale(&mut self, from: Point, to: Point, length: Mm) -> Result<f64, String> {
        let pixel = |p: Point| (p.to_vec2() / self.mm_per_pixel).to_point();
        let scale = cloth_drawn::photo_scale(pixel(from), pixel(to), length)
            .map_err(|why| why.to_string())?;
        let grows = scale / self.mm_per_pixel;
        self.mm_per_pixel = scale;
        self.scaled = true;
        Ok(grows)
    }

    /// Paints it with its lower left corner there on the table.
    pub fn paint(&self, brush: &Brush<'_>, corner: Vec2) {
        let around =
            kurbo::Rect::from_origin_size(corner.to_point(), (self.size_mm().x, self.size_mm().y));
        let uv = Rect::from_min_max(egui::Pos2::ZERO, egui::Pos2::new(1.0, 1.0));
        let rect = brush.rect(around);
        brush
            .painter
            .image(self.texture.id(), rect, uv, Color32::WHITE);
    }
}

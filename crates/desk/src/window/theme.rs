//! Colours, type sizes and spacing: one place for how the window looks.

use std::sync::Arc;

use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle, Theme,
};
use layout::State;

/// Space between panels and at the window's edge, in points.
pub const GUTTER: f32 = 8.0;

/// Space between a panel's edge and what it holds, in points.
pub const PADDING: f32 = 14.0;

/// Rounding of panels, in points.
pub const PANEL_RADIUS: u8 = 8;

/// Rounding of fields and buttons, in points.
pub const FIELD_RADIUS: u8 = 6;

/// Height of a row of a panel, in points.
pub const ROW: f32 = 28.0;

/// Text sizes, in points.
pub mod size {
    /// The character's name and a panel's heading.
    pub const HEADING: f32 = 17.0;
    /// Everything else that is read.
    pub const BODY: f32 = 13.5;
    /// What a group of fields or a view is called.
    pub const SMALL: f32 = 12.0;
}

/// The family of strong text.
pub fn strong() -> FontFamily {
    FontFamily::Name("strong".into())
}

/// The colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Behind the panels.
    pub desk: Color32,
    /// The bar at the top.
    pub bar: Color32,
    /// Panels and views: the paper.
    pub paper: Color32,
    /// Fields that are typed in.
    pub field: Color32,
    /// Hairlines around panels and between groups.
    pub line: Color32,
    /// Grid lines of the views.
    pub grid: Color32,
    /// Text and outlines.
    pub ink: Color32,
    /// Labels that step back.
    pub faint: Color32,
    /// What can be worked: handles, buttons, the current step.
    pub accent: Color32,
    /// Text on `accent`.
    pub on_accent: Color32,
    /// The plate's body.
    pub plate: Color32,
    /// The ring's body.
    pub ring: Color32,
    /// The ring's edge.
    pub ring_edge: Color32,
    /// The ball's body.
    pub ball: Color32,
    /// The iris.
    pub iris: Color32,
    /// The pupil.
    pub pupil: Color32,
    /// A lid's body.
    pub lid: Color32,
    /// A lid's edge.
    pub lid_edge: Color32,
    /// Clear.
    pub clear: Color32,
    /// Tight.
    pub tight: Color32,
    /// Fouls.
    pub fouls: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

/// Paper on a warm desk.
pub const LIGHT: Palette = Palette {
    desk: rgb(0x00F3_EFE6),
    bar: rgb(0x00E9_E3D5),
    paper: rgb(0x00FC_FBF7),
    field: rgb(0x00FF_FFFF),
    line: rgb(0x00D6_CEBC),
    grid: rgb(0x00EC_E8DD),
    ink: rgb(0x0024_2630),
    faint: rgb(0x0063_625C),
    accent: rgb(0x0016_6069),
    on_accent: rgb(0x00FF_FFFF),
    plate: rgb(0x00DC_E8E4),
    ring: rgb(0x00EB_D9A9),
    ring_edge: rgb(0x008A_6A1F),
    ball: rgb(0x00FF_FFFF),
    iris: rgb(0x003F_6EA6),
    pupil: rgb(0x0024_2630),
    lid: rgb(0x00D8_B798),
    lid_edge: rgb(0x0079_5135),
    clear: rgb(0x0007_7A5A),
    tight: rgb(0x00A3_6200),
    fouls: rgb(0x00B7_3A12),
};

/// The same bench by night.
pub const DARK: Palette = Palette {
    desk: rgb(0x001B_1D21),
    bar: rgb(0x0023_262B),
    paper: rgb(0x0027_2A30),
    field: rgb(0x001E_2126),
    line: rgb(0x0043_4850),
    grid: rgb(0x0031_353C),
    ink: rgb(0x00EC_E9E1),
    faint: rgb(0x00A9_A79F),
    accent: rgb(0x0062_C2C6),
    on_accent: rgb(0x0013_2023),
    plate: rgb(0x002F_4547),
    ring: rgb(0x0066_5630),
    ring_edge: rgb(0x00DD_BD6C),
    ball: rgb(0x00F3_F0E8),
    iris: rgb(0x005B_8EC9),
    pupil: rgb(0x0018_1A1E),
    lid: rgb(0x0069_4F3E),
    lid_edge: rgb(0x00DA_AB83),
    clear: rgb(0x0045_C497),
    tight: rgb(0x00F0_AE45),
    fouls: rgb(0x00FF_8B66),
};

impl Palette {
    /// The palette of the theme in use.
    pub fn of(ctx: &egui::Context) -> Self {
        match ctx.theme() {
            Theme::Light => LIGHT,
            Theme::Dark => DARK,
        }
    }

    /// The colour of a state; its shape and its word say the same.
    pub fn state(&self, state: State) -> Color32 {
        match state {
            State::Clear => self.clear,
            State::NotChecked => self.faint,
            State::Tight => self.tight,
            State::Fouls => self.fouls,
        }
    }

    /// A hairline.
    pub fn hairline(&self) -> Stroke {
        Stroke::new(1.0, self.line)
    }
}

/// Gives the window its fonts and both themes their looks.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    // A desktop that does not say how it looks gets paper.
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    for (theme, palette) in [(Theme::Light, LIGHT), (Theme::Dark, DARK)] {
        ctx.set_visuals_of(theme, visuals(theme, &palette));
        ctx.style_mut_of(theme, |style| {
            style.text_styles = [
                (TextStyle::Heading, FontId::new(size::HEADING, strong())),
                (TextStyle::Body, FontId::proportional(size::BODY)),
                (TextStyle::Button, FontId::proportional(size::BODY)),
                (TextStyle::Small, FontId::proportional(size::SMALL)),
                (TextStyle::Monospace, FontId::monospace(size::BODY)),
            ]
            .into();
            style.interaction.selectable_labels = false;
            style.spacing.item_spacing = egui::vec2(8.0, 4.0);
            style.spacing.button_padding = egui::vec2(10.0, 4.0);
            style.spacing.interact_size.y = ROW - 4.0;
        });
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    for (name, bytes) in [
        (
            "text",
            include_bytes!("../../../../assets/fonts/Inter-Regular.otf").as_slice(),
        ),
        (
            "strong",
            include_bytes!("../../../../assets/fonts/Inter-SemiBold.otf").as_slice(),
        ),
    ] {
        let data = FontData::from_static(bytes);
        fonts.font_data.insert(name.to_owned(), Arc::new(data));
    }
    let fallback = fonts.families[&FontFamily::Proportional].clone();
    let with_fallback = |first: &str| {
        let mut family = vec![first.to_owned()];
        family.extend(fallback.iter().cloned());
        family
    };
    fonts
        .families
        .insert(FontFamily::Proportional, with_fallback("text"));
    fonts.families.insert(strong(), with_fallback("strong"));
    fonts
}

fn visuals(theme: Theme, palette: &Palette) -> egui::Visuals {
    let mut visuals = theme.default_visuals();
    visuals.panel_fill = palette.desk;
    visuals.window_fill = palette.paper;
    visuals.window_stroke = palette.hairline();
    visuals.extreme_bg_color = palette.field;
    visuals.override_text_color = Some(palette.ink);
    visuals.hyperlink_color = palette.accent;
    visuals.selection.bg_fill = palette.accent.gamma_multiply(0.35);
    visuals.selection.stroke = Stroke::new(1.5, palette.accent);
    let widgets = &mut visuals.widgets;
    for (state, edge) in [
        (&mut widgets.noninteractive, palette.line),
        (&mut widgets.inactive, palette.line),
        (&mut widgets.hovered, palette.accent),
        (&mut widgets.active, palette.accent),
        (&mut widgets.open, palette.accent),
    ] {
        state.corner_radius = CornerRadius::same(FIELD_RADIUS);
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.0, palette.ink);
        state.bg_fill = palette.field;
        state.weak_bg_fill = palette.field;
        state.expansion = 0.0;
    }
    visuals.widgets.noninteractive.bg_fill = palette.paper;
    visuals
}

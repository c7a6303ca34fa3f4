//! What the window writes besides the project.

/// What can be written besides the project.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Export {
    /// PDF spread over pages, true to scale.
    PagesPdf,
    /// PDF of one sheet as large as needed.
    OneSheetPdf,
    /// SVG drawing.
    Svg,
    /// DXF drawing, in the layers of the open apparel practice.
    Dxf,
    /// A picture of all pieces.
    Png,
    /// Lines of figures on a page, as PDF.
    Lines,
    /// PDF of the making sheet.
    MakingSheet,
    /// PDF of the lay plan, each offcut to scale on a page.
    LayPlan,
    /// PDF of the lay plan at true size, on pages to be joined.
    LayPlanTrueSize,
}

impl Export {
    /// Ending of the file.
    pub fn ending(self) -> &'static str {
        match self {
            Self::PagesPdf
            | Self::OneSheetPdf
            | Self::Lines
            | Self::MakingSheet
            | Self::LayPlan
            | Self::LayPlanTrueSize => "pdf",
            Self::Svg => "svg",
            Self::Dxf => "dxf",
            Self::Png => "png",
        }
    }
}

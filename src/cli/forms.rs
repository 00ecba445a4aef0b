//! The forms in which a sheet is printed.

use crate::quantity::System;
use crate::render;
use crate::sheets::Output;
use clap::ValueEnum;

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Format {
    /// For a terminal and for paper.
    Text,
    /// For a spreadsheet; its last rows are the cautions, in the group `caution`.
    Csv,
    /// For other programs.
    Json,
    /// For a calendar: dates of the finishing schedule (iCalendar).
    Ics,
    /// For the shop wall: drawings of layouts and views, one page under the other (SVG).
    Svg,
    /// For the printer: the same drawings, each a page in its exact size (PDF).
    Pdf,
}

/// The units that a page is printed in, where they are not those of the project.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Units {
    /// Inches, to thirty-seconds.
    Inches,
    /// Millimetres, to tenths.
    Millimetres,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Inches => Self::Inch,
            Units::Millimetres => Self::Metric,
        }
    }
}

impl Format {
    /// The forms that are one file each; drawings are one file a page.
    pub const FILES: [Self; 4] = [Self::Text, Self::Csv, Self::Json, Self::Ics];

    /// Whether it is drawn.
    pub const fn is_drawn(self) -> bool {
        matches!(self, Self::Svg | Self::Pdf)
    }

    pub fn extension(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Csv => "csv",
            Self::Json => "json",
            Self::Ics => "ics",
            Self::Svg => "svg",
            Self::Pdf => "pdf",
        }
    }

    /// The sheet in this form; `None` where it has none, as a drawing is none of it.
    pub fn text(self, output: &Output) -> Option<String> {
        match self {
            Self::Text => Some(render::text(&output.document)),
            Self::Csv => Some(render::csv(&output.document)),
            Self::Json => Some(output.json.text() + "\n"),
            Self::Ics => output.calendar.clone(),
            Self::Svg | Self::Pdf => None,
        }
    }
}

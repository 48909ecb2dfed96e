//! Pages as a PDF: tagged in the order in which they are read, the letters that
//! are used embedded, title and language set. `ink` draws on a page, `scene`
//! pictures, `tags` is the order of reading.
//!
//! Every file is made as PDF/UA-1 (ISO 14289-1), the standard of PDF that
//! everyone can read: what the library can see that breaks it is an error.

mod ink;
mod scene;
mod tags;

use chrono::{Datelike, NaiveDateTime, Timelike};
use krilla::configure::{Accessibility, Configuration, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::Point;
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::text::Font;
use krilla::{Document, SerializeSettings};
use thiserror::Error;

use super::page::Page;
use super::typeface::{FACES, Typeface};
use ink::Ink;
use tags::Tags;

/// What our PDF files say they were made by; none other is written over.
pub const CREATOR: &str = "ovenbell";

/// Whether the bytes of a file are a PDF that was made here.
pub fn is_ours(bytes: &[u8]) -> bool {
    let creator = CREATOR.as_bytes();
    bytes.starts_with(b"%PDF-") && bytes.windows(creator.len()).any(|part| part == creator)
}

/// Pages that belong together, with their title.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section<'a> {
    /// The title of the sheet.
    pub title: &'a str,
    /// Its pages.
    pub pages: &'a [Page],
}

/// A PDF could not be made, which would be a fault of the program.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("the PDF could not be made: {0}")]
pub struct NoPdf(pub String);

impl From<KrillaError> for NoPdf {
    fn from(error: KrillaError) -> Self {
        Self(match &error {
            KrillaError::Validation(broken) => {
                let what = broken.iter().map(|(what, _)| format!("{what:?}"));
                format!("it would not be PDF/UA-1: {}", what.collect::<Vec<_>>().join(", "))
            }
            _ => error.to_string(),
        })
    }
}

/// Sheets as the bytes of a PDF.
///
/// # Errors
/// If a face of the typeface cannot be read, a page has no size, or the file
/// would not keep to PDF/UA-1.
pub fn pdf(
    title: &str,
    (language, issued): (&str, NaiveDateTime),
    sections: &[Section<'_>],
    typeface: &Typeface,
) -> Result<Vec<u8>, NoPdf> {
    let settings = SerializeSettings { configuration: readable()?, ..Default::default() };
    let mut document = Document::new_with(settings);
    let fonts = fonts()?;
    let mut tags = Tags::default();
    let mut outline = Outline::new();
    let mut number = 0;
    for section in sections {
        if !section.pages.is_empty() {
            let top = XyzDestination::new(number, Point::from_xy(0.0, 0.0));
            outline.push_child(OutlineNode::new(section.title.to_owned(), top));
        }
        for page in section.pages {
            let (wide, high) = page.size;
            let size = PageSettings::from_wh(wide, high);
            let size = size.ok_or_else(|| NoPdf(format!("a page of {wide} by {high} points")))?;
            let mut written = document.start_page_with(size);
            let mut ink = Ink { surface: written.surface(), typeface, fonts: &fonts };
            ink.page(page, (&mut tags, number));
            // What was drawn becomes the page's as its surface goes.
            drop(ink);
            written.finish();
            number += 1;
        }
        tags.end_sheet();
    }
    document.set_outline(outline);
    document.set_metadata(about(title, (language, issued)));
    document.set_tag_tree(tags.tree(language));
    Ok(document.finish()?)
}

/// A file that keeps to PDF/UA-1.
fn readable() -> Result<Configuration, NoPdf> {
    let builder = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
    builder.finish().map_err(|error| NoPdf(format!("{error:?}")))
}

fn fonts() -> Result<Vec<Font>, NoPdf> {
    let each = FACES.iter().enumerate().map(|(i, bytes)| {
        let font = Font::new((*bytes).into(), 0);
        font.ok_or_else(|| NoPdf(format!("face {i} cannot be read")))
    });
    each.collect()
}

/// What the file says of itself; a title there must be.
fn about(title: &str, (language, issued): (&str, NaiveDateTime)) -> Metadata {
    let part = |of: u32| u8::try_from(of).unwrap_or_default();
    let made = DateTime::new(u16::try_from(issued.year()).unwrap_or_default())
        .month(part(issued.month()))
        .day(part(issued.day()))
        .hour(part(issued.hour()))
        .minute(part(issued.minute()))
        .second(part(issued.second()));
    Metadata::new()
        .title(if title.is_empty() { CREATOR } else { title }.to_owned())
        .language(language.to_owned())
        .creator(CREATOR.to_owned())
        .producer(CREATOR.to_owned())
        .creation_date(made)
}

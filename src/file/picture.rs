//! Pictures and papers that were opened by mistake, told by their first bytes.

/// What a file is that is a picture or a paper, from the marks with which such
/// files begin (PNG: ISO/IEC 15948; JPEG: ISO/IEC 10918-1; PDF: ISO 32000; the
/// others from memory).
pub fn picture_in(bytes: &[u8]) -> Option<&'static str> {
    let from = |at: usize, mark: &[u8]| bytes.get(at..).is_some_and(|b| b.starts_with(mark));
    let is_heif = || from(4, b"ftypheic") || from(4, b"ftypheix") || from(4, b"ftypmif1");
    match () {
        () if from(0, b"\x89PNG\r\n\x1a\n") => Some("a picture (PNG)"),
        () if from(0, b"\xff\xd8\xff") => Some("a picture (JPEG)"),
        () if from(0, b"GIF87a") || from(0, b"GIF89a") => Some("a picture (GIF)"),
        () if from(0, b"RIFF") && from(8, b"WEBP") => Some("a picture (WebP)"),
        () if is_heif() => Some("a picture (HEIC)"),
        () if from(0, b"%PDF-") => Some("a paper to print (PDF)"),
        () => None,
    }
}

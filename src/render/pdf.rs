//! Drawings as PDF in their exact size: vector lines and text, one sheet of paper a page, with the wish that nobody scales them.

use crate::document::{Anchor, CAPITALS, Drawing, Fill, Glyph, Line, Point, Shape, Stroke, Text, Weight};
use crate::real::Real;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// A point of type, of which an inch has 72, in millimetres.
const POINT: f64 = 25.4 / 72.0;
/// The largest side of a page in points (ISO 32000-1, annex C); a larger one counts in larger units.
const LARGEST: f64 = 14_400.0;
/// From the centre of a circle of radius 1 to the handles of the curves that draw it: 4/3 of the tangent of an eighth of a turn.
const HANDLE: f64 = 0.552_284_749_830_793_4;
/// How many units of a glyph are one of type (ISO 32000-1, 9.2.4).
const GLYPH_UNITS: f64 = 1000.0;

/// Drawings as one file. `title` is what readers show for it.
#[must_use]
pub fn pdf(title: &str, drawings: &[Drawing]) -> Vec<u8> {
    let mut file = Pdf::new();
    let mut ids = (1..).map(Ref::new);
    let mut next = || ids.next().unwrap_or(Ref::new(i32::MAX));
    let (catalog, tree, info) = (next(), next(), next());
    let mut faces = [Weight::Regular, Weight::Bold].map(|weight| Used::new(weight, next()));
    let mut pages = Vec::new();
    for drawing in drawings {
        let (page_id, content_id) = (next(), next());
        let size = drawing.size.map(|side| side / POINT);
        // What is too large by no more than its last digit is not.
        let unit = (size[0].max(size[1]) / LARGEST - 1e-9).ceil().max(1.0);
        let sheet = Sheet { high: drawing.size[1], scale: POINT * unit };
        let mut content = Content::new();
        for shape in &drawing.shapes {
            sheet.draw(shape, &mut content, &mut faces);
        }
        let mut page = file.page(page_id);
        let [wide, high] = size.map(|side| small(side / unit));
        page.media_box(Rect::new(0.0, 0.0, wide, high)).parent(tree).contents(content_id);
        if unit > 1.0 {
            page.user_unit(small(unit));
        }
        let mut resources = page.resources();
        let mut fonts = resources.fonts();
        for face in &faces {
            fonts.pair(face.name(), face.id);
        }
        fonts.finish();
        resources.finish();
        page.finish();
        file.stream(content_id, &content.finish());
        pages.push(page_id);
    }
    for face in faces {
        face.write(&mut file, &mut next);
    }
    let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
    file.pages(tree).kids(pages).count(count);
    file.document_info(info).title(TextStr(title)).producer(TextStr("scantling"));
    let mut root = file.catalog(catalog);
    root.pages(tree).lang(TextStr("en"));
    root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    file.finish()
}

/// A face and the glyphs that are used of it.
struct Used {
    weight: Weight,
    id: Ref,
    glyphs: GlyphRemapper,
    /// What each glyph of the subset says, and how wide it is for a size of type of 1.
    says: BTreeMap<u16, (char, f64)>,
}

impl Used {
    fn new(weight: Weight, id: Ref) -> Self {
        Self { weight, id, glyphs: GlyphRemapper::new(), says: BTreeMap::new() }
    }

    fn name(&self) -> Name<'static> {
        match self.weight {
            Weight::Regular => Name(b"F1"),
            Weight::Bold => Name(b"F2"),
        }
    }

    /// The bytes by which a line of words is shown.
    fn coded(&mut self, says: &str) -> Vec<u8> {
        let mut bytes = Vec::new();
        for Glyph { id, letter, width } in self.weight.glyphs(says) {
            let own = self.glyphs.remap(id);
            self.says.insert(own, (letter, width));
            bytes.extend(own.to_be_bytes());
        }
        bytes
    }

    /// Writes the face with the glyphs that are used; a subset that cannot be made leaves the whole face.
    fn write(self, file: &mut Pdf, next: &mut impl FnMut() -> Ref) {
        let (descendant, descriptor, program, cmap) = (next(), next(), next(), next());
        let (base, info) = match self.weight {
            Weight::Regular => (Name(b"SCANTL+Inter-Regular"), SYSTEM),
            Weight::Bold => (Name(b"SCANTL+Inter-Bold"), SYSTEM),
        };
        file.type0_font(self.id)
            .base_font(base)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(descendant)
            .to_unicode(cmap);
        let mut font = file.cid_font(descendant);
        font.subtype(CidFontType::Type0).base_font(base).system_info(info).font_descriptor(descriptor);
        font.default_width(0.0);
        let mut widths = font.widths();
        for (glyph, (_, width)) in &self.says {
            widths.same(*glyph, *glyph, small(width * GLYPH_UNITS));
        }
        widths.finish();
        font.finish();
        let mut about = file.font_descriptor(descriptor);
        about.name(base).flags(FontFlags::NON_SYMBOLIC).italic_angle(0.0);
        let [left, bottom, right, top] = self.weight.bounds().map(|units| small(units * GLYPH_UNITS));
        about.bbox(Rect::new(left, bottom, right, top));
        about.ascent(top).descent(bottom).cap_height(small(CAPITALS * GLYPH_UNITS));
        // Readers only ask for it where they make a face of their own.
        about.stem_v(if self.weight == Weight::Bold { 140.0 } else { 80.0 });
        about.font_file3(program);
        about.finish();
        let mut unicode = UnicodeCmap::new(Name(b"Inter"), info);
        for (glyph, (letter, _)) in self.says.iter().filter(|(glyph, _)| **glyph > 0) {
            unicode.pair(*glyph, *letter);
        }
        file.stream(cmap, &unicode.finish());
        let whole = self.weight.data();
        let subset = subsetter::subset(whole, 0, &self.glyphs).unwrap_or_else(|_| whole.to_vec());
        file.stream(program, &subset).pair(Name(b"Subtype"), Name(b"OpenType"));
    }
}

/// Glyphs are named by their numbers.
const SYSTEM: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// A sheet of paper whose places are counted from its lower left corner.
struct Sheet {
    /// How high it is, in millimetres.
    high: f64,
    /// How many millimetres one of its units is.
    scale: f64,
}

impl Sheet {
    fn at(&self, [x, y]: Point) -> [f32; 2] {
        [small(x / self.scale), small((self.high - y) / self.scale)]
    }

    fn long(&self, millimetres: f64) -> f32 {
        small(millimetres / self.scale)
    }

    fn draw(&self, shape: &Shape, content: &mut Content, faces: &mut [Used; 2]) {
        match shape {
            Shape::Stroke(Stroke { line, path, closed }) => {
                self.line(*line, content);
                self.path(path, content);
                if *closed {
                    content.close_path();
                }
                content.stroke();
            }
            Shape::Area { outline, fill } => {
                self.path(outline, content);
                content.set_fill_gray(grey(*fill)).close_path().fill_nonzero();
            }
            Shape::Circle { centre, radius, line, fill } => {
                self.line(*line, content);
                self.circle(*centre, *radius, content);
                match fill {
                    Some(fill) => content.set_fill_gray(grey(*fill)).fill_nonzero_and_stroke(),
                    None => content.stroke(),
                };
            }
            Shape::Text(text) => self.words(text, content, faces),
        }
    }

    fn line(&self, line: Line, content: &mut Content) {
        content.set_line_width(self.long(line.width()));
        content.set_dash_pattern(line.dashes().iter().map(|dash| self.long(*dash)), 0.0);
        if line.is_red() {
            content.set_stroke_rgb(0.8, 0.0, 0.0);
        } else {
            content.set_stroke_gray(0.0);
        }
    }

    fn path(&self, path: &[Point], content: &mut Content) {
        let mut points = path.iter().map(|point| self.at(*point));
        if let Some([x, y]) = points.next() {
            content.move_to(x, y);
        }
        for [x, y] in points {
            content.line_to(x, y);
        }
    }

    fn circle(&self, [x, y]: Point, radius: f64, content: &mut Content) {
        let at = |across: f64, up: f64| self.at([x + across * radius, y - up * radius]);
        let [from_x, from_y] = at(1.0, 0.0);
        content.move_to(from_x, from_y);
        let quarters = [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]];
        for ([ax, ay], [bx, by]) in quarters.into_iter().zip(quarters.into_iter().cycle().skip(1)) {
            let [x1, y1] = at(ax + HANDLE * bx, ay + HANDLE * by);
            let [x2, y2] = at(bx + HANDLE * ax, by + HANDLE * ay);
            let [x3, y3] = at(bx, by);
            content.cubic_to(x1, y1, x2, y2, x3, y3);
        }
        content.close_path();
    }

    fn words(&self, text: &Text, content: &mut Content, [regular, bold]: &mut [Used; 2]) {
        let face = if text.weight == Weight::Bold { bold } else { regular };
        let coded = face.coded(&text.says);
        let before = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => text.width() / 2.0,
            Anchor::End => text.width(),
        };
        let (sin, cos) = text.turn.to_radians().sine_cosine();
        let [x, y] = self.at([text.at[0] - before * cos, text.at[1] + before * sin]);
        content.begin_text().set_font(face.name(), self.long(text.size()));
        content.set_fill_gray(0.0);
        content.set_text_matrix([small(cos), small(sin), small(-sin), small(cos), x, y]);
        content.show(Str(&coded)).end_text();
    }
}

fn grey(fill: Fill) -> f32 {
    match fill {
        Fill::Paper => 1.0,
        Fill::Ink => 0.0,
    }
}

/// Seven digits are enough for paper.
#[allow(clippy::cast_possible_truncation, reason = "a place on paper, to a ten thousandth of a millimetre")]
fn small(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::pdf;
    use crate::document::{Drawing, Line, Text};

    fn text(drawings: &[Drawing]) -> String {
        String::from_utf8_lossy(&pdf("Stick", drawings)).into_owned()
    }

    #[test]
    fn a_page_is_as_large_as_its_paper_and_asks_not_to_be_scaled() {
        let mut drawing = Drawing::new("stick", "a stick", [215.9, 279.4]);
        drawing.line(Line::Outline, [[25.4, 25.4], [127.0, 25.4]]);
        drawing.text(Text::new("4 in", [25.4, 40.0], 3.5));
        let page = text(&[drawing.clone()]);
        for says in [
            // Letter paper: 8 1/2 x 11 in.
            "/MediaBox [0 0 612 792]",
            "/PrintScaling /None",
            // From one inch to five, an inch from the top: 72 points to an inch.
            "72 720 m",
            "360 720 l",
            // 0.35 mm.
            "0.992126 w",
            "/Subtype /OpenType",
        ] {
            assert!(page.contains(says), "{says} is not in {page}");
        }
        assert_eq!(pdf("Stick", &[drawing.clone()]), pdf("Stick", &[drawing]));
    }

    /// ISO 32000-1 lets no page be larger than 200 in; what is larger counts in larger units.
    #[test]
    fn a_stick_longer_than_a_page_may_be_keeps_its_size() {
        let mut drawing = Drawing::new("stick", "a stick", [254.0, 10_160.0]);
        drawing.line(Line::Outline, [[0.0, 0.0], [254.0, 0.0]]);
        let page = text(&[drawing]);
        for says in ["/MediaBox [0 0 360 14400]", "/UserUnit 2", "360 14400 l"] {
            assert!(page.contains(says), "{says} is not in {page}");
        }
    }
}

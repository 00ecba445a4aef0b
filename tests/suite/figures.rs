//! Asks a compiled example for its figures, as its README works them out.

use crate::{compiled, compiled_text, inch};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::parts::{Measure, MeasureValue, Surfaces, Work, with_spares};
use scantling::quantity::{Length, estimate, number};
use scantling::sheets::sheet;
use std::collections::BTreeMap;

/// A compiled example with its measures by path.
pub struct Figures {
    pub compilation: Compilation,
    measures: BTreeMap<String, Measure>,
}

/// A number as the working of an example prints it.
pub fn printed(value: f64, places: usize) -> String {
    format!("{value:.places$}")
}

impl Figures {
    pub fn of(file: &str) -> Self {
        let compilation = compiled(file);
        let measures = compilation.graph.measures();
        Self { compilation, measures }
    }

    pub fn of_text(text: &str) -> Self {
        let compilation = compiled_text(text);
        assert!(!compilation.has_errors(), "{:?}", compilation.diagnostics);
        let measures = compilation.graph.measures();
        Self { compilation, measures }
    }

    /// The same of a text that checks refuse.
    pub fn of_text_with_errors(text: &str) -> Self {
        let compilation = compiled_text(text);
        let measures = compilation.graph.measures();
        Self { compilation, measures }
    }

    pub fn measure(&self, path: &str) -> &Measure {
        self.measures.get(path).unwrap_or_else(|| panic!("no measure {path}"))
    }

    #[track_caller]
    fn is(&self, path: &str, expected: Length) {
        let value = self.measure(path).length().expect("a length").value;
        assert_eq!(value, expected, "{path} is {} mm", value.to_mm_f64());
    }

    /// An exact length in inches.
    #[track_caller]
    pub fn inch(&self, path: &str, expected: &str) {
        self.is(path, inch(expected));
    }

    /// An exact length in millimetres.
    #[track_caller]
    pub fn mm(&self, path: &str, expected: &str) {
        self.is(path, Length::from_mm(number(expected).unwrap()));
    }

    /// A length as the project prints it, without the sign that it is rounded.
    #[track_caller]
    pub fn prints(&self, path: &str, expected: &str) {
        let value = self.measure(path).length().expect("a length").value;
        let marks = self.compilation.model.project.marks;
        assert_eq!(marks.print(value).text(), expected, "{path}");
    }

    /// An estimate as it is printed.
    #[track_caller]
    pub fn estimate(&self, path: &str, expected: &str) {
        let MeasureValue::Estimate(value, _) = self.measure(path).value else {
            panic!("{path} is no estimate")
        };
        assert_eq!(estimate(value, self.compilation.model.project.marks.system()), expected, "{path}");
    }

    fn counted(&self, path: &str) -> (usize, &[(String, usize)]) {
        match &self.measure(path).value {
            MeasureValue::Count(count, from) => (*count, from),
            _ => panic!("{path} is no count"),
        }
    }

    pub fn count(&self, path: &str) -> usize {
        self.counted(path).0
    }

    /// Of a count, what belongs to parts whose paths begin so.
    pub fn count_in(&self, path: &str, unit: &str, stiles: &str) -> usize {
        let rows = self.counted(path).1.iter();
        rows.filter(|(joint, _)| joint.starts_with(unit) || joint.starts_with(stiles))
            .map(|(_, count)| count)
            .sum()
    }

    /// A fastener: how many stand in the work and how many are bought. The rows add up to the count.
    #[track_caller]
    pub fn bought(&self, fastener: &str, count: usize, buy: usize) {
        let (total, rows) = self.counted(&format!("hardware.{fastener}.count"));
        assert_eq!(total, count);
        assert_eq!(rows.iter().map(|(_, count)| count).sum::<usize>(), count);
        let json = self.sheet("hardware");
        let item =
            json["items"].as_array().unwrap().iter().find(|item| item["name"] == fastener).unwrap().clone();
        assert_eq!(item["count"], count);
        assert_eq!(item["buy"], buy);
        if count != buy {
            assert_eq!(with_spares(count, 20), buy);
        }
    }

    pub fn sheet(&self, name: &str) -> serde_json::Value {
        let subject = self.compilation.subject(Effort::Normal);
        (sheet(name).unwrap().make)(subject).json.value()
    }

    /// A row of the finishing schedule's areas.
    pub fn area(&self, of: &str, what: &str, class: &str) -> String {
        let json = self.sheet("finish");
        let rows = json["areas"].as_array().unwrap();
        let row = rows.iter().find(|row| row["of"] == of && row["what"] == what && row["class"] == class);
        row.unwrap_or_else(|| panic!("no row {of} {what} {class}"))["size"].as_str().unwrap().to_owned()
    }

    pub fn surfaces(&self, of: &str) -> Surfaces {
        let faces = self.compilation.graph.faces().unwrap();
        self.compilation
            .graph
            .surfaces(faces, Work::Left)
            .into_iter()
            .find(|surfaces| surfaces.path == of)
            .unwrap()
    }

    /// What a product covers, how much is needed, what to buy.
    pub fn product(&self, name: &str) -> [String; 3] {
        let json = self.sheet("finish");
        let row =
            json["products"].as_array().unwrap().iter().find(|row| row["name"] == name).unwrap().clone();
        ["covers", "needed", "buy"].map(|key| row[key].as_str().unwrap().to_owned())
    }

    /// Solid stock of a board: blanks, with kerfs, to buy.
    pub fn solid(&self, board: &str) -> [String; 3] {
        let json = self.sheet("cut-list");
        let group =
            json["groups"].as_array().unwrap().iter().find(|group| group["stock"] == board).unwrap().clone();
        ["blanks", "with_kerfs", "to_buy"].map(|key| group["solid"][key].as_str().unwrap().to_owned())
    }
}

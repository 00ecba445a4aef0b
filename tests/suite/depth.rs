//! What nests or chains: a stack of 2 MB is enough for any text, and what goes deeper is told.

use scantling::compile::{Compilation, compile};
use scantling::diff::{Side, diff, document};
use scantling::format::format;
use scantling::source::MemoryFiles;

fn side(compilation: &Compilation) -> Side<'_> {
    let Compilation { sources, model, graph, plans, findings, diagnostics, .. } = compilation;
    Side { name: "here", sources, model, graph, plans, findings, diagnostics }
}

/// Runs on a stack of 2 MB, as threads have it.
fn on_a_small_stack<T: Send + 'static>(run: impl FnOnce() -> T + Send + 'static) -> T {
    std::thread::Builder::new().stack_size(2 << 20).spawn(run).unwrap().join().unwrap()
}

fn compiled(text: &str) -> Compilation {
    compile(&MemoryFiles::single("deep.scant", text), "deep.scant".into()).unwrap()
}

fn codes(compilation: &Compilation) -> Vec<&str> {
    let mut codes: Vec<&str> = compilation.diagnostics.iter().map(|message| message.code.id).collect();
    codes.dedup();
    codes
}

const CARCASS: &str = "project { marks = 1mm }
sheet ply { size = 2440mm x 1220mm, thickness = 18mm }
stick lines { floor = 80mm, top = 800mm }
carcass box { stock = ply, width = a0, height = 900mm, depth = 300mm, shelves = lines }
";

/// A width that depends on so many names in a row, each 0.001 mm more than the next.
fn chain(names: usize, last: u32) -> String {
    let links = (0..names).map(|i| format!("let a{i} = a{} + 0.001mm\n", i + 1));
    format!("{CARCASS}{}let a{names} = {last}mm\n", links.collect::<String>())
}

#[test]
fn a_chain_of_ten_thousand_names_is_worked_out_compared_and_explained() {
    on_a_small_stack(|| {
        let (old, new) = (compiled(&chain(10_000, 600)), compiled(&chain(10_000, 601)));
        assert_eq!(codes(&new), [""; 0]);
        let width = new.graph.find("box.width").unwrap().remove(0).1;
        let scantling::parts::MeasureValue::Length(width) = width.value else {
            panic!("a width is a length")
        };
        // 601 mm and 10,000 times 0.001 mm.
        assert_eq!(new.model.project.marks.print(width.value).to_string(), "611 mm");
        let reason = new.graph.ledger.reason(width.why, &new.sources, new.model.project.marks);
        assert_eq!(reason.steps.len(), 10_002);
        let (old, new) = (side(&old), side(&new));
        let page = format!("{:?}", document(&diff(old, new), old, new));
        // The cause is the one number that the text states otherwise, ten thousand names away.
        assert!(page.contains("a10000"), "{page}");
    });
}

#[test]
fn names_that_lead_in_a_long_circle_are_told_once() {
    on_a_small_stack(|| {
        let links: String = (0..10_000).map(|i| format!("let a{i} = a{}\n", (i + 1) % 10_000)).collect();
        let circle = compiled(&links);
        assert_eq!(codes(&circle), ["V004"]);
        assert_eq!(circle.diagnostics.len(), 1);
        assert!(circle.diagnostics[0].labels.len() <= 8);
    });
}

#[test]
fn brackets_and_operands_together_have_one_limit() {
    on_a_small_stack(|| {
        for (brackets, operands) in [(60, 65), (63, 200), (4, 254), (63, 5)] {
            let (open, close) = ("(".repeat(brackets), " + 1)".repeat(brackets));
            let inner = format!("{open}1{}{close}", " + 1".repeat(operands));
            let nested = (0..brackets)
                .fold("1".to_owned(), |inner, _| format!("({inner}{})", " + 1".repeat(operands)));
            // Operands from the whole down to the innermost: two for each bracket round the long row, or a row in each.
            for (expr, deep) in
                [(inner, 2 * brackets + operands + 1), (nested, 1 + brackets * (operands + 1))]
            {
                let text = format!("let a = {expr}\n");
                let expected = if deep > 320 { "S011" } else { "L009" };
                assert_eq!(codes(&compiled(&text)), [expected], "{brackets} brackets, {operands} operands");
                assert!(format(&text).is_ok());
            }
        }
    });
}

#[test]
fn choices_in_choices_and_signs_before_brackets_take_no_more_stack() {
    on_a_small_stack(|| {
        for text in [
            format!("let a = {}1\n", "if true then 1 else ".repeat(20_000)),
            format!("let a = {}1{}\n", "--------(".repeat(64), ")".repeat(64)),
            format!("let a = {}1\n", "not not not ".repeat(20_000)),
            format!("let a = {}1{}\n", "max(1, ".repeat(64), ")".repeat(64)),
            format!("let a = {}1{}\n", "[".repeat(200), "]".repeat(200)),
            format!("{}let a = 1{}\n", "unit a { ".repeat(5_000), " }".repeat(5_000)),
            format!("module m {{ {} }}\nm\n", "unit a { ".repeat(60)),
        ] {
            let compilation = compiled(&text);
            assert!(!compilation.diagnostics.is_empty());
            let _ = format(&text);
        }
    });
}

/// Modules in modules, each with a chain of names from what it takes to what it hands on.
fn nested_modules(modules: usize, names: usize) -> String {
    let module = |i: usize| {
        let links: String = (0..names).map(|n| format!("  let b{} = b{n} + 1mm\n", n + 1)).collect();
        let inner = if i + 1 == modules {
            format!(
                "  carcass box {{ stock = ply, width = b{names}, height = 900mm, depth = 300mm, shelves = lines }}\n"
            )
        } else {
            format!("  m{} inner {{ width = b{names} }}\n", i + 1)
        };
        format!("module m{i} {{\n  param width: length\n  let b0 = width\n{links}{inner}}}\n")
    };
    let all: String = (0..modules).map(module).collect();
    format!(
        "project {{ marks = 1mm }}\nsheet ply {{ size = 2440mm x 1220mm, thickness = 18mm }}\n\
         stick lines {{ floor = 80mm, top = 800mm }}\n{all}m0 outer {{ width = 200mm }}\n"
    )
}

#[test]
fn names_that_run_through_nested_modules_are_worked_out() {
    on_a_small_stack(|| {
        let compilation = compiled(&nested_modules(62, 12));
        assert_eq!(codes(&compilation), [""; 0]);
        // 200 mm and 62 x 12 times 1 mm.
        let width = compilation.graph.units[0].width;
        assert_eq!(compilation.model.project.marks.print(width.value).to_string(), "944 mm");
    });
}

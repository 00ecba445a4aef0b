//! Compiles the generated parser.

fn main() {
    println!("cargo:rerun-if-changed=src");
    cc::Build::new().std("c11").include("src").file("src/parser.c").warnings(false).compile("tree-sitter-scantling");
}

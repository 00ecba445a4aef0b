//! Benchmarks.
fn main() {
    divan::main();
}

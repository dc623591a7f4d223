//! Turnleaf from a terminal.
fn main() {
    let p = turnleaf_plan::Plan::parse(&std::fs::read(std::env::args().nth(1).unwrap()).unwrap()).unwrap().0;
    match turnleaf_plan::build(&p) {
        Ok(b) => {
            for c in &b.checks {
                if !c.holds || c.margin < 1.0 {
                    println!("{} {} {}", c.holds, c.id, c.text);
                }
            }
            for n in &b.numbers {
                println!("{:28} {:10.3} {} {}", n.id, n.value, n.unit.symbol(), n.label);
            }
        }
        Err(e) => println!("{e:#?}"),
    }
}

//! Programs that come with the operating system.
//!
//! In: pairs of program and Debian package. Out: all of them present, or one sentence.
//! Always true: nothing is installed unless we run as root and `apt-get` is there.

use crate::run::{command, find, read, show};

/// Makes sure of these programs, each given with the Debian package that brings it.
pub fn need(programs: &[(&str, &str)]) -> Result<(), String> {
    let missing: Vec<&str> =
        programs.iter().filter(|(program, _)| find(program).is_none()).map(|(_, package)| *package).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let sentence = format!(
        "These programs are missing; on Debian or Ubuntu: sudo apt-get install {}",
        missing.join(" ")
    );
    let is_root = read(command("id", &["-u"]), "id").is_ok_and(|user| user.trim() == "0");
    if !is_root || find("apt-get").is_none() {
        return Err(sentence);
    }
    println!("Installing {}.", missing.join(", "));
    let apt = |words: &[&str]| {
        let mut apt = command("apt-get", words);
        apt.env("DEBIAN_FRONTEND", "noninteractive");
        apt
    };
    show(apt(&["-qq", "update"]), "apt-get update")?;
    let mut words = vec!["-qq", "-y", "--no-install-recommends", "install"];
    words.extend_from_slice(&missing);
    show(apt(&words), "apt-get install")?;
    match programs.iter().find(|(program, _)| find(program).is_none()) {
        Some((program, _)) => Err(format!("{program} is still missing after the installation.")),
        None => Ok(()),
    }
}

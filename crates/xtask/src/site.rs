//! Building and serving the app.
//!
//! In: the workspace. Out: the site in `dist/`, or a server that rebuilds it on every change.
//! Always true: Trunk works offline and never fetches a tool.

use crate::run::{command, root, show};
use crate::tools;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::Command;
use std::time::{Duration, Instant};

/// Trunk with our settings. Its builds use a target folder of their own, so that they never wait
/// for a native build in another terminal.
fn trunk(words: &[&str]) -> Command {
    let mut trunk = command("trunk", words);
    if std::env::var_os("CARGO_TARGET_DIR").is_none() {
        trunk.env("CARGO_TARGET_DIR", root().join("target").join("web"));
    }
    // Trunk mistakes NO_COLOR=1 for a value of its own flag.
    trunk.env_remove("NO_COLOR");
    trunk
}

/// Has views compiled once for every kind of element instead of once for every place, which makes the page a quarter
/// smaller (measured: 842 kB with Brotli without, 665 with). Tests in the site's profile need it too, so that both
/// share what is built.
pub fn small(build: &mut Command) {
    let flags = std::env::var("RUSTFLAGS").unwrap_or_default();
    build.env("RUSTFLAGS", format!("{flags} --cfg erase_components").trim());
}

/// Builds the site into `dist/`.
pub fn build(release: bool) -> Result<(), String> {
    let words = ["build", "--offline"];
    let mut build = trunk(&words);
    if release {
        build.arg("--release");
        small(&mut build);
    }
    show(build, "Building the site")
}

/// Serves the app, rebuilding it on every change, until interrupted.
pub fn serve(options: &[String]) -> Result<(), String> {
    let mut release = false;
    let mut wanted: Option<u16> = None;
    let mut words = options.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--release" => release = true,
            "--port" => {
                let number = words.next().and_then(|n| n.parse().ok());
                wanted = Some(number.ok_or("--port needs a number from 1 to 65535.")?);
            }
            other => return Err(format!("serve does not know `{other}`; it takes --release and --port N.")),
        }
    }
    tools::for_site()?;
    let port = match wanted {
        Some(port) => port,
        None => free_port()?,
    };
    let port_word = port.to_string();
    let mut trunk_words = vec!["serve", "--offline", "--address", "127.0.0.1", "--port", &port_word];
    if release {
        trunk_words.push("--release");
    }
    println!("Building the app; the first build takes a few minutes.");
    let mut server =
        trunk(&trunk_words).spawn().map_err(|error| format!("trunk could not be started: {error}."))?;
    let started = Instant::now();
    loop {
        if let Ok(Some(status)) = server.try_wait() {
            return Err(format!("The server stopped ({status})."));
        }
        if answers(port) {
            println!("\nTurnleaf is at http://127.0.0.1:{port}/  (stop with Ctrl+C)\n");
            break;
        }
        if started.elapsed() > Duration::from_secs(3600) {
            return Err("The app was still not served after an hour.".into());
        }
        std::thread::sleep(Duration::from_millis(300));
    }
    let status = server.wait().map_err(|error| format!("The server was lost: {error}."))?;
    if status.success() { Ok(()) } else { Err(format!("The server stopped ({status}).")) }
}

/// The first free port from 8080 on.
fn free_port() -> Result<u16, String> {
    (8080..8180)
        .find(|port| TcpListener::bind(("127.0.0.1", *port)).is_ok())
        .ok_or_else(|| "No port from 8080 to 8179 is free; name one with --port.".to_string())
}

/// Whether the start page is served there.
fn answers(port: u16) -> bool {
    let Ok(mut stream) = TcpStream::connect(("127.0.0.1", port)) else { return false };
    let _ = stream.set_read_timeout(Some(Duration::from_secs(5)));
    if stream.write_all(b"GET / HTTP/1.0\r\nHost: 127.0.0.1\r\nAccept: text/html\r\n\r\n").is_err() {
        return false;
    }
    // "HTTP/1.x 200"
    let mut start = [0; 12];
    stream.read_exact(&mut start).is_ok() && start.ends_with(b" 200")
}

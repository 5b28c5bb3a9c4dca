//! No network: no crate that opens a socket comes along, and the program itself asks the system for none.

use std::fs;
use std::path::Path;

use crate::kitchen::PROGRAM;

/// Crates that speak to a network, or that others use for it.
const NETWORK_CRATES: &[&str] = &[
    "actix-web",
    "async-io",
    "async-net",
    "async-std",
    "attohttpc",
    "axum",
    "curl",
    "curl-sys",
    "dbus",
    "h2",
    "hickory-resolver",
    "http",
    "httparse",
    "hyper",
    "isahc",
    "libssh2-sys",
    "mio",
    "native-tls",
    "openssl",
    "openssl-sys",
    "quinn",
    "reqwest",
    "rouille",
    "rustls",
    "self_update",
    "sentry",
    "smol",
    "socket2",
    "surf",
    "tiny_http",
    "tokio",
    "tonic",
    "trust-dns-resolver",
    "tungstenite",
    "ureq",
    "warp",
    "webpki",
    "websocket",
    "zbus",
    "zmq",
];

/// Functions of the C library that reach another machine. The system's own sockets between two processes of one
/// machine, by which a child tells why it did not start, are none of them.
const NETWORK_CALLS: &[&str] = &[
    "accept",
    "accept4",
    "bind",
    "connect",
    "getaddrinfo",
    "gethostbyname",
    "getnameinfo",
    "listen",
    "recvfrom",
    "res_init",
    "res_query",
    "sendto",
    "setsockopt",
    "shutdown",
    "socket",
];

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The crates of a lock file that speak to a network.
fn speakers(lock: &str) -> Vec<&str> {
    let names = lock.lines().filter_map(|it| it.strip_prefix("name = "));
    let names = names.map(|it| it.trim_matches('"'));
    names.filter(|it| NETWORK_CRATES.contains(it)).collect()
}

#[test]
fn no_crate_that_comes_along_speaks_to_a_network() {
    let lock = fs::read_to_string(top().join("Cargo.lock")).unwrap();
    assert!(lock.matches("[[package]]").count() > 50);
    assert_eq!(speakers(&lock), Vec::<&str>::new());
    assert_eq!(
        speakers("[[package]]\nname = \"ureq\"\nversion = \"1\"\n"),
        ["ureq"]
    );
}

#[test]
fn the_crate_of_system_calls_comes_without_those_of_sockets() {
    let manifest = fs::read_to_string(top().join("Cargo.toml")).unwrap();
    let line = manifest
        .lines()
        .find(|it| it.starts_with("rustix = "))
        .unwrap();
    assert!(
        line.contains("features") && !line.contains("\"net\"") && !line.contains("all-apis"),
        "{line}"
    );
    for left_out in ["load_extension", "\"vtab\"", "sqlite-wasm"] {
        assert!(!manifest.contains(left_out), "{left_out}");
    }
}

/// A whole number of an ELF file, least byte first.
fn number(bytes: &[u8], at: usize, length: usize) -> usize {
    let read = bytes[at..at + length].iter().rev();
    read.fold(0, |sum, byte| sum << 8 | usize::from(*byte))
}

/// The names that a program asks other libraries for: the undefined ones in the table of dynamic symbols (System V ABI,
/// ELF-64 object file format 1.5: header, section headers of type 11, symbols of 24 bytes).
fn asked_of_libraries(elf: &[u8]) -> Vec<String> {
    assert!(
        elf.starts_with(b"\x7fELF\x02\x01"),
        "a program for 64 bits, least byte first"
    );
    let (sections, size, count) = (
        number(elf, 0x28, 8),
        number(elf, 0x3a, 2),
        number(elf, 0x3c, 2),
    );
    let section = |at: usize| sections + at * size;
    let table = (0..count)
        .map(section)
        .find(|it| number(elf, it + 4, 4) == 11)
        .unwrap();
    let (symbols, length) = (number(elf, table + 24, 8), number(elf, table + 32, 8));
    let names = number(elf, section(number(elf, table + 40, 4)) + 24, 8);
    let symbols = (symbols..symbols + length).step_by(24);
    let undefined = symbols.filter(|it| number(elf, it + 6, 2) == 0);
    let name = |symbol: usize| {
        let text = &elf[names + number(elf, symbol, 4)..];
        let end = text.iter().position(|it| *it == 0).unwrap();
        String::from_utf8_lossy(&text[..end]).into_owned()
    };
    undefined.map(name).collect()
}

#[test]
#[cfg(all(target_os = "linux", target_pointer_width = "64"))]
fn the_program_asks_the_system_for_no_connection() {
    let program = fs::read(PROGRAM).unwrap();
    let asked = asked_of_libraries(&program);
    // It does open files, or the table was not read.
    assert!(asked.iter().any(|it| it.starts_with("open")), "{asked:?}");
    let calls: Vec<&String> = asked
        .iter()
        .filter(|it| NETWORK_CALLS.contains(&it.as_str()))
        .collect();
    assert_eq!(calls, Vec::<&String>::new());
}

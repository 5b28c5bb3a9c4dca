//! A small program on our own terminal backend, for the tests of the terminal to play with.

use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;
use std::time::Duration;

use cursive::Cursive;
use cursive::event::Event;
use cursive::event::EventTrigger;
use cursive::event::Key;
use cursive::theme::Color;
use cursive::theme::ColorStyle;
use cursive::theme::Effect;
use cursive::traits::Nameable;
use cursive::traits::Resizable;
use cursive::utils::markup::StyledString;
use cursive::view::View;
use cursive::views::Canvas;
use cursive::views::EditView;
use cursive::views::LinearLayout;
use cursive::views::OnEventView;
use cursive::views::Panel;
use cursive::views::TextContent;
use cursive::views::TextView;
use thirdglass::terminal::Environment;
use thirdglass::terminal::install_panic_hook;
use thirdglass::tui::pasted;
use thirdglass::tui::run;

/// Text that would name the window, colour it and clear it, if it reached the terminal as it is.
const HOSTILE: &str = "hostile \x1b]0;stolen\x07 \x1b[2J ❤\u{fe0f} \u{202e}behind it";

/// How often a running stopwatch wants to be drawn.
const TICK: Duration = Duration::from_millis(50);

fn main() -> ExitCode {
    install_panic_hook();
    let mut siv = Cursive::new();
    let running = Arc::new(AtomicBool::new(false));
    let deaf = Arc::new(AtomicBool::new(false));
    siv.set_window_title("trial ½");
    siv.add_fullscreen_layer(room());
    siv.add_layer(desk());
    add_switch(&mut siv, Key::F2, &deaf);
    add_switch(&mut siv, Key::F3, &running);
    add_keys(&mut siv);
    let next_tick = |_: &Cursive| {
        // The loop asks between drawing and waiting: the screen shows the key that made it deaf.
        while deaf.load(Ordering::SeqCst) {
            std::thread::park();
        }
        running.load(Ordering::SeqCst).then_some(TICK)
    };
    match run(&mut siv, &Environment::from_process(), next_tick) {
        Ok(ended) => ExitCode::from(ended.exit_code()),
        Err(error) => {
            report(&error.to_string());
            ExitCode::from(error.exit_code())
        }
    }
}

#[expect(
    clippy::print_stderr,
    reason = "the door of a program tells why it stays shut"
)]
fn report(message: &str) {
    eprintln!("{message}");
}

/// The ground: says how large it is and marks its far corner.
fn room() -> impl View {
    let canvas = Canvas::new(()).with_required_size(|(), size| size);
    canvas.with_draw(|(), printer| {
        let size = printer.size;
        printer.print((0, 0), &format!("room {}x{} ", size.x, size.y));
        printer.print((size.x.saturating_sub(1), size.y.saturating_sub(1)), "#");
    })
}

/// What lies on top: a field, the last event, a count of ticks and lines that are hard to draw.
fn desk() -> impl View {
    let (seen, ticks) = (TextContent::new("no event"), TextContent::new("ticks 0"));
    let lines = LinearLayout::vertical()
        .child(field())
        .child(TextView::new_with_content(seen.clone()))
        .child(TextView::new_with_content(ticks.clone()))
        .child(TextView::new(coloured()))
        .child(TextView::new("½ – 麦芽 ▀▄█"))
        .child(TextView::new(HOSTILE));
    let count = AtomicUsize::new(0);
    let panel = Panel::new(lines.fixed_width(40)).title("trial");
    OnEventView::new(panel).on_pre_event_inner(EventTrigger::any(), move |_, event| {
        if *event == Event::Refresh {
            let count = count.fetch_add(1, Ordering::SeqCst) + 1;
            ticks.set_content(format!("ticks {count}"));
        } else {
            seen.set_content(format!("{event:?}"));
        }
        None
    })
}

/// A field that takes pasted text.
fn field() -> impl View {
    let field = EditView::new().with_name("field");
    OnEventView::new(field).on_pre_event_inner(EventTrigger::any(), |field, event| {
        let text = pasted(event)?.to_owned();
        let mut field = field.get_mut();
        let content = format!("{}{text}", field.get_content());
        Some(cursive::event::EventResult::Consumed(Some(
            field.set_content(content),
        )))
    })
}

/// Words in colours of every kind and in effects.
fn coloured() -> StyledString {
    let mut text = StyledString::plain("plain ");
    text.append_styled(
        "copper ",
        ColorStyle::new(Color::Rgb(200, 100, 50), Color::Rgb(20, 20, 20)),
    );
    text.append_styled("cube ", ColorStyle::front(Color::RgbLowRes(5, 0, 0)));
    text.append_styled("strong ", Effect::Bold);
    text.append_styled("turned", Effect::Reverse);
    text
}

/// A key that turns something on and off.
fn add_switch(siv: &mut Cursive, key: Key, switch: &Arc<AtomicBool>) {
    let switch = Arc::clone(switch);
    siv.add_global_callback(key, move |_| {
        switch.fetch_xor(true, Ordering::SeqCst);
    });
}

fn add_keys(siv: &mut Cursive) {
    siv.add_global_callback(Key::F10, Cursive::quit);
    siv.add_global_callback(Key::F4, |siv| {
        siv.add_fullscreen_layer(picture());
    });
    siv.add_global_callback(Event::CtrlChar('b'), |_| {
        panic!("the trial fell over on purpose")
    });
}

/// A picture in which every cell has its own colour, so that it takes many bytes.
fn picture() -> impl View {
    Canvas::new(())
        .with_required_size(|(), size| size)
        .with_draw(|(), printer| {
            for row in 0..printer.size.y {
                for column in 0..printer.size.x {
                    let [red, green, blue] =
                        [row * 7, column * 5, row * column].map(|part| part.to_le_bytes()[0]);
                    let style =
                        ColorStyle::new(Color::Rgb(red, green, blue), Color::Rgb(blue, red, green));
                    printer.with_color(style, |printer| printer.print((column, row), "▀"));
                }
            }
        })
}

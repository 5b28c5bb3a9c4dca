//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

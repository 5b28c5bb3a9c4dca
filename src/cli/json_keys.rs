//! What the JSON of a command holds, key by key, for its long help.

/// How a prediction is asked for.
pub(super) const PREDICT_EXAMPLES: &str = "Examples:
  thirdglass recipe predict stout.toml --json
  thirdglass recipe predict stout.toml --why bitter";

/// Every key of a prediction, as deep as it stands, with its unit. A test holds this list against what
/// is printed.
const PREDICT_KEYS: &str = "In JSON (--json; keys are added, never renamed):
  format                the version of these keys, a whole number
  recipe, version       the name of the recipe, and which version of it
  volume_l              litres into the fermenter
  prediction            the figures:
    figures             one key a figure; what cannot be told is left out, and cautions say why:
      original-gravity      specific gravity 20/20 °C
      final-gravity         specific gravity 20/20 °C
      alcohol               % by volume at 20 °C
      real-extract          % by weight
      apparent-attenuation  %, as the hydrometer shows it; above 100 when it ends below water
      energy                kcal in 100 mL
      bitterness            IBU, mg of iso-alpha-acid in a litre
      colour                EBC units
      carbonation           volumes of carbon dioxide; only with a target or with sugar logged
      priming-sugar         g for the whole batch; only with a target
        value               the figure with everything as usual
        low, high           with everything at its low or high end; null where there is no range
        unit                the unit; empty for gravities
        origin              measured, from measurements, or from the recipe
    assumed             sentences: what was assumed because it is not stated
    cautions            sentences: what to take care of, the most pressing first
  profile               a list of lines, every scale and then every shelf worth a line:
    line                the id of the scale, or stage:shelf:id
    kind                scale or shelf
    words               what the line is called on screen
    predicted           what is predicted, in digits from 0 to 9:
      chance            of a shelf: how likely a taster names it, 0 to 1; null for a scale
      middle            the middle; of a shelf, how strong it is if it is named
      low, high         8 glasses in 10 lie between them
      why               a list, the largest part first:
        from            what it comes from
        part            of a scale: what that adds beside an ordinary beer, in the scale's unit;
                        of a shelf: its share of the whole, 0 to 1";

/// The long help of a prediction: examples, then every key.
pub(super) fn predict_help() -> String {
    format!("{PREDICT_EXAMPLES}\n\n{PREDICT_KEYS}")
}

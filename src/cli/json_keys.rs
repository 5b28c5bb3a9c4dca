//! What the JSON of a command holds, key by key, for its long help.

/// How a prediction is asked for.
pub(super) const PREDICT_EXAMPLES: &str = "Examples:
  thirdglass recipe predict stout.toml --json
  thirdglass recipe predict stout.toml --why bitter
  thirdglass recipe predict stout.toml --weeks 12
  thirdglass recipe predict stout.toml --taster Ana";

/// Every key of a prediction, as deep as it stands, with its unit. A test holds this list against what
/// is printed.
const PREDICT_KEYS: &str = "In JSON (--json; keys are added, never renamed):
  format                the version of these keys, a whole number
  recipe, version       the name of the recipe, and which version of it
  volume_l              litres into the fermenter
  weeks                 weeks in the bottle at 20 °C; null for a beer that has just become ready
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
                        of a shelf: its share of the whole, 0 to 1
    as_noted            how the taster would note it, with chance, middle, low and high as above;
                        null without --taster, and for lines of which nothing is learnt
  as_noted_by           what that rests on; null without --taster:
    taster              the name
    batches             how many batches it was learnt from
    used                false as long as there are too few of them
    range_factor        how much wider the glass strays than predicted, in standard deviations
    left_out            the check, each batch predicted from the others:
      batches           a list of
        cap_mark        the batch
        plain, learnt   the mean error without and with what was learnt, in digits
      plain, learnt     the same over all batches
      chance            how likely so large a gain is by luck, 0 to 1
      claimed           true if that is too small for luck
      claimed_from_batches  how many batches there must be for a claim";

/// The long help of a prediction: examples, then every key.
pub(super) fn predict_help() -> String {
    format!("{PREDICT_EXAMPLES}\n\n{PREDICT_KEYS}")
}

// Common practice, no source. Where hands meet mains, water or mould, local rules decide.

export const MAINS =
  "Touch plug, switch and breaker only with dry hands, on a dry floor. Anything more is for a qualified electrician. Your local rules decide.";

export const WATER =
  "Keep water away from the fridge's lamp, leads and plug. If water lies near them, do not reach in until the supply is off.";

export const MOULD_DUST =
  "Mould dust harms lungs. Open the boxes out of doors or by an open window, wear a mask that fits closely, and do not brush or blow dry mould. If you clean with bleach, never mix it with anything but water, wear gloves and follow the label.";

export const BLEACH =
  "If you clean with bleach, dilute it as its label says, in cold water and nothing else: with vinegar or any other cleaner it gives off poisonous gas. Wear gloves, open a window, unplug the fridge first, and rinse and dry what cocoons touch.";

export const PESTS =
  "If it may be a pest from abroad, or one that must be reported, do not let it go and do not throw it out: keep it in a shut jar in the cold, photograph it, and ask your local plant or animal health authority. Its rules decide what comes next.";

export const NOT_FOR_FOOD =
  "Keep no food in a fridge that holds cocoons: mites, mould and what you clean with get onto it.";

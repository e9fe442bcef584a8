// Common practice, no source. Where hands meet mains, water or mould, local rules decide.

export const MAINS =
  "Touch plug, switch and breaker only with dry hands, on a dry floor. Anything more is for a qualified electrician. Your local rules decide.";

export const WATER =
  "Keep water away from the fridge's lamp, leads and plug. If water lies near them, do not reach in until the supply is off.";

export const MOULD_DUST =
  "Mould dust harms lungs. Open the boxes out of doors or by an open window, wear a mask that fits closely, and do not brush or blow dry mould. If you clean with bleach, never mix it with anything but water, wear gloves and follow the label.";

/**
 * The two largest of some values above zero. The second is what a fridge usually reaches: one door
 * that was not told does not hide the next. Changed in place.
 */
export type TopTwo = { count: number; first: number; second: number };

export const beginTopTwo = (): TopTwo => ({ count: 0, first: 0, second: 0 });

export function noteTop(top: TopTwo, value: number): void {
  top.count++;
  if (value > top.first) {
    top.second = top.first;
    top.first = value;
  } else if (value > top.second) top.second = value;
}

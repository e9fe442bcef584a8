import { html, type Markup } from "../html.js";
import { DAYLIGHT } from "./palette.js";

/*
 * Pictures are drawn when a letter is sent, but its HTML is finished before. So it has a slot for
 * each picture: a comment, which leaves the letter whole where a picture cannot be drawn.
 */

const slot = (index: number): string => `<!--picture-${index}-->`;

/** The slot of a letter's picture, counted from 0. */
export const pictureSlot = (index: number): Markup => html`<!--picture-${index}-->
`;

/**
 * A letter's HTML with its pictures in their slots.
 *
 * @param pictures where each is to be had, in the order of the slots; null leaves a slot empty
 */
export function fillPictureSlots(
  letterHtml: string,
  pictures: readonly (Readonly<{ cid: string; alt: string }> | null)[],
): string {
  return pictures.reduce<string>((text, picture, i) => {
    if (picture === null) return text;
    const image = html`<img src="cid:${picture.cid}" alt="${picture.alt}" width="524" style="display:block;width:100%;max-width:524px;height:auto;margin:16px 0 8px;border:0;color:${DAYLIGHT.quiet};font-size:14px;line-height:1.4">`;
    return text.replace(slot(i), () => image.toString());
  }, letterHtml);
}

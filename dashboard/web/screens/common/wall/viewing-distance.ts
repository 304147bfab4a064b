// How large a letter must be to be read from where people stand. Angles are those of ISO 9241-303 as secondary
// literature reports them: at least 16 minutes of arc for the height of an unaccented capital, 20 to 22 preferred;
// 30 for headline digits is our own choice.

export interface ViewingConditions {
  readonly distance_metres: number;
  readonly diagonal_inches: number;
  readonly width_pixels: number;
  readonly height_pixels: number;
}

export const EASY_ARC_MINUTES = 20;
export const HEADLINE_ARC_MINUTES = 30;

/** Height of a capital over the type size: 700 of 1000 units in the type that the screens use. */
const CAP_HEIGHT = 0.7;
const MILLIMETRES_PER_INCH = 25.4;
const RADIANS_PER_ARC_MINUTE = Math.PI / (180 * 60);

/** h = 2 d tan(a / 2). */
export const capHeightMillimetres = (arcMinutes: number, distance_metres: number): number =>
  2 * distance_metres * 1000 * Math.tan((arcMinutes * RADIANS_PER_ARC_MINUTE) / 2);

export const millimetresPerPixel = (viewing: ViewingConditions): number =>
  (viewing.diagonal_inches * MILLIMETRES_PER_INCH) / Math.hypot(viewing.width_pixels, viewing.height_pixels);

/** Type size in CSS pixels at which a capital fills the angle. */
export const typePixels = (arcMinutes: number, viewing: ViewingConditions): number =>
  capHeightMillimetres(arcMinutes, viewing.distance_metres) / millimetresPerPixel(viewing) / CAP_HEIGHT;

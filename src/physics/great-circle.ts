const degree = Math.PI / 180;
/** Mean radius of the Earth, km (IUGG, as in Moritz, Geodetic Reference System 1980). */
const earthKm = 6371.0088;

/** Great-circle distance of two places, latitude and longitude in degrees, km. Source: the haversine formula. */
export function greatCircleKm(
  [latitude, longitude]: readonly [number, number],
  [otherLatitude, otherLongitude]: readonly [number, number],
): number {
  const up = Math.sin(((otherLatitude - latitude) * degree) / 2);
  const along = Math.sin(((otherLongitude - longitude) * degree) / 2);
  const haversine = up * up + Math.cos(latitude * degree) * Math.cos(otherLatitude * degree) * along * along;
  return 2 * earthKm * Math.asin(Math.min(1, Math.sqrt(haversine)));
}

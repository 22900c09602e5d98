// What a receiver writes along rows: GGA sentences of made-up positions, with their checksums.

const EQUATOR_M = 6378137;
const FLATTENING = 1 / 298.257223563;

/** Longitude and latitude of a spot of a plot at `origin`, on the ellipsoid's two radii there. */
export function globe({ lon, lat, bearing }, { x, y }) {
  const squared = FLATTENING * (2 - FLATTENING);
  const radians = (lat * Math.PI) / 180;
  const w = Math.sqrt(1 - squared * Math.sin(radians) ** 2);
  const meridian = (EQUATOR_M * (1 - squared)) / w ** 3;
  const [sin, cos] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
  // x along the bearing, y to its left.
  const [east, north] = [x * sin - y * cos, x * cos + y * sin];
  return {
    lon: lon + (east / ((EQUATOR_M / w) * Math.cos(radians))) * (180 / Math.PI),
    lat: lat + (north / meridian) * (180 / Math.PI),
  };
}

const half = (degrees, width) => {
  const whole = Math.floor(Math.abs(degrees));
  return `${String(whole).padStart(width, "0")}${((Math.abs(degrees) - whole) * 60).toFixed(9).padStart(12, "0")}`;
};

/** A sentence with its checksum. */
export function sentence(body) {
  let sum = 0;
  for (const letter of body) sum ^= letter.codePointAt(0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, "0")}`;
}

/** A GGA sentence of a position; quality 4 is RTK fixed, 1 satellites alone. */
export const gga = ({ lon, lat }, quality = 4) =>
  sentence(`GNGGA,101500.00,${half(lat, 2)},${lat < 0 ? "S" : "N"},${half(lon, 3)},${lon < 0 ? "W" : "E"},${quality},17,0.6,3,M,,M,,`);

/** A fixed pattern of errors between −1 and 1. */
export const pattern = (nth, step) => ((nth * step) % 1) * 2 - 1;

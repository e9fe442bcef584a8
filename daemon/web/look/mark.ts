import { DAYLIGHT } from "../../letters/palette.js";

/** The mark in the browser's tab: a cocoon, lying in its band. */
export const MARK = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32">
<rect width="32" height="32" fill="${DAYLIGHT.paper}"/>
<path d="M0 7.5h32M0 24.5h32" stroke="${DAYLIGHT.quiet}"/>
<ellipse cx="16" cy="16" rx="9.5" ry="5.5" fill="${DAYLIGHT.directions.dry}"/>
<path d="M11 11.5v9M14.5 10.5v11M18 10.5v11M21.500 11.700v8.600" stroke="${DAYLIGHT.paper}" stroke-opacity=".55"/>
</svg>
`;

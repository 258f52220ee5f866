// SPDX-License-Identifier: GPL-3.0-or-later
// The few parts of d3 that the pictures use.
export { select } from 'd3-selection';
export { arc, area, line } from 'd3-shape';
export { axisBottom, axisLeft } from 'd3-axis';
export { scaleLinear } from 'd3-scale';
export { contours } from 'd3-contour';

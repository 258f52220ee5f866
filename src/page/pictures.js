// SPDX-License-Identifier: GPL-3.0-or-later
// The classroom's pictures. Each draws what the core left; lines differ in weight and dash, bands in
// lightness, so that none rests on colour alone.
import { select, arc, area, line, axisBottom, axisLeft, scaleLinear, contours } from './d3.js';
import { say } from './words.js';
import { unit, with_unit } from './controls.js';
import { MAP, map_axis } from './work.js';

const MILE = 1609.344;
const way_unit = (us) => (us ? MILE : 1000);
const degrees = (kelvin, us) => (us ? (kelvin - 273.15) * 1.8 + 32 : kelvin - 273.15);
const heat_text = (kelvin, us) => with_unit(degrees(kelvin, us).toFixed(0), 'HEAT', us);

function canvas(box, width, height, key) {
  const svg = select(box).append('svg').attr('viewBox', `0 0 ${width} ${height}`).attr('class', `picture ${key}`)
    .attr('role', 'img').attr('aria-label', say(key));
  return svg;
}

const axis = (svg, cls, x, y) => svg.append('g').attr('class', `axis ${cls}`).attr('transform', `translate(${x},${y})`);

function clear(svg) { svg.selectAll('*').remove(); }

// ---- the wall in section ---------------------------------------------------------------------

const CELLS = 12;
// Cool slate to pale to dark ember: lightness runs one way up to the limit.
const HEAT_STOPS = [[273, '#35506b'], [313, '#6f93a6'], [343, '#c9c7a5'], [373, '#e2a25a'], [403, '#c65a34'], [453, '#7d1f1f']];
const heat_colour = scaleLinear().domain(HEAT_STOPS.map((s) => s[0])).range(HEAT_STOPS.map((s) => s[1])).clamp(true);

export function wall_picture(box) {
  const svg = canvas(box, 460, 230, 'wall');
  const shape = arc().startAngle(-Math.PI * 0.42).endAngle(Math.PI * 0.42);
  const g = svg.append('g').attr('transform', 'translate(230,232)');
  const inner = 130, thick = 5.6;
  const layers = Array.from({ length: CELLS }, (_, i) => g.append('path')
    .attr('d', shape({ innerRadius: inner + i * thick, outerRadius: inner + (i + 1) * thick + 0.4 })));
  g.append('path').attr('class', 'outline').attr('d', shape({ innerRadius: inner, outerRadius: inner + CELLS * thick }));
  const name = (key, y) => { g.append('text').attr('class', 'name').attr('y', y).attr('text-anchor', 'middle').text(say(key)); };
  name('wall.outer', -inner - CELLS * thick - 10);
  name('wall.liner', -inner + 52);
  const label = (y) => g.append('text').attr('class', 'value').attr('y', y).attr('text-anchor', 'middle');
  const air = label(-inner + 76), liner = label(-inner + 20);
  return (row, us) => {
    layers.forEach((layer, i) => layer.attr('fill', heat_colour(row[1 + i])));
    air.text(heat_text(row[1 + CELLS], us));
    liner.text(heat_text(row[1], us));
  };
}

export const wall_words = (row, way, us) => say('wall.text', { way, inner: heat_text(row[1], us), outer: heat_text(row[CELLS], us),
  hot: heat_text(Math.max(...row.slice(1, 1 + CELLS)), us), life: with_unit((100 * row[2 + CELLS]).toFixed(0), 'SHARE', us) });

// ---- how far, and how sure -------------------------------------------------------------------

export function band_picture(box) {
  const svg = canvas(box, 460, 150, 'band');
  const left = 14, right = 446;
  function bar(x, v, y, cls) {
    const g = svg.append('g').attr('class', cls);
    g.append('rect').attr('class', 'reach').attr('x', x(v.range_p5)).attr('width', Math.max(1, x(v.range_p95) - x(v.range_p5))).attr('y', y).attr('height', 22);
    g.append('line').attr('class', 'half').attr('x1', x(v.range_p50)).attr('x2', x(v.range_p50)).attr('y1', y - 3).attr('y2', y + 25);
    if (v.go === 1)
      g.append('path').attr('class', 'advised').attr('d', `M${x(v.advised_distance)} ${y + 22} l-7 12 h14 Z`);
  }
  return (a, kept) => {
    clear(svg);
    const rule = a.value.rule_distance, us = a.us;
    const furthest = Math.max(2 * rule, a.value.range_p95 || 0, kept ? kept.value.range_p95 : 0);
    const x = scaleLinear().domain([0, Math.min(furthest, 8 * rule)]).range([left, right]).nice().clamp(true);
    axis(svg, 'x', 0, 110).call(axisBottom(x).ticks(6));
    svg.append('text').attr('class', 'title').attr('x', right).attr('y', 144).attr('text-anchor', 'end').text(say('band.axis', { unit: unit('WAY', us) }));
    svg.append('line').attr('class', 'rule').attr('x1', x(rule)).attr('x2', x(rule)).attr('y1', 14).attr('y2', 110);
    svg.append('text').attr('class', 'name').attr('x', x(rule) + 4).attr('y', 16).text(say('band.rule'));
    if (kept) bar(x, kept.value, 70, 'kept');
    if (!a.value.rim_at_start && !Number.isNaN(a.value.range_p5)) bar(x, a.value, 26, 'now');
  };
}

// ---- life along the drive --------------------------------------------------------------------

export function life_picture(box) {
  const svg = canvas(box, 460, 250, 'life');
  const y = scaleLinear().domain([0, 1]).range([205, 14]).clamp(true);
  return (points, kept, a) => {
    clear(svg);
    const us = a.us, u = way_unit(us);
    const x = scaleLinear().domain([0, points[points.length - 1][0] / u]).range([52, 446]);
    const at = (p) => x(p[0] / u);
    svg.append('path').attr('class', 'reach').attr('d', area().x(at).y0((p) => y(p[4])).y1((p) => y(p[6]))(points));
    svg.append('path').attr('class', 'half').attr('d', line().x(at).y((p) => y(p[5]))(points));
    if (kept) svg.append('path').attr('class', 'kept half').attr('d', line().x((p) => Math.min(at(p), 446)).y((p) => y(p[5]))(kept));
    svg.append('line').attr('class', 'rule').attr('x1', x(a.value.rule_distance)).attr('x2', x(a.value.rule_distance)).attr('y1', 14).attr('y2', 205);
    svg.append('text').attr('class', 'name').attr('x', x(a.value.rule_distance) - 4).attr('y', 26).attr('text-anchor', 'end').text(say('band.rule'));
    axis(svg, 'x', 0, 205).call(axisBottom(x).ticks(6));
    axis(svg, 'y', 52, 0).call(axisLeft(y).ticks(5).tickFormat((v) => (100 * v).toFixed(0)));
    svg.append('text').attr('class', 'title').attr('x', 446).attr('y', 243).attr('text-anchor', 'end').text(say('life.x', { unit: unit('WAY', us) }));
    svg.append('text').attr('class', 'title').attr('transform', 'translate(14,14) rotate(-90)').attr('text-anchor', 'end').text(say('life.y'));
  };
}

// ---- the map ---------------------------------------------------------------------------------

const STEPS = { metric: [0, 20, 40, 60, 80, 120, 160, 240], us: [0, 10, 20, 30, 50, 75, 100, 150] };
const MAP_BOX = { left: 52, right: 446, top: 14, bottom: 235 };

const inside = (place, count) => Math.min(count - 1, Math.max(0, place - 0.5)); // contours count from cell middles

export function map_picture(box) {
  const svg = canvas(box, 460, 285, 'map'), b = MAP_BOX;
  const under = svg.append('g'), over = svg.append('g');
  const x = scaleLinear().domain(MAP.speed).range([b.left, b.right]), y = scaleLinear().domain(MAP.load).range([b.bottom, b.top]);
  const along = scaleLinear().domain([0, MAP.speeds - 1]).range([b.left, b.right]);
  const up = scaleLinear().domain([0, MAP.loads - 1]).range([b.bottom, b.top]);
  const outline = (shape) => shape.coordinates.flatMap((polygon) => polygon.map((ring) =>
    `M${ring.map(([i, j]) => `${along(inside(i, MAP.speeds)).toFixed(1)} ${up(inside(j, MAP.loads)).toFixed(1)}`).join('L')}Z`)).join('');
  function axes(us) {
    const mph = us ? 1.609344 : 1;
    const shown = scaleLinear().domain(MAP.speed.map((s) => s / mph)).range([b.left, b.right]);
    axis(under, 'x', 0, b.bottom).call(axisBottom(shown).ticks(6));
    axis(under, 'y', b.left, 0).call(axisLeft(y).ticks(6).tickFormat((v) => (100 * v).toFixed(0)));
    under.append('text').attr('class', 'title').attr('x', b.right).attr('y', 276).attr('text-anchor', 'end').text(say('map.x', { unit: unit('SPEED', us) }));
    under.append('text').attr('class', 'title').attr('transform', `translate(14,${b.top}) rotate(-90)`).attr('text-anchor', 'end').text(say('map.y'));
  }
  // A contour's number stands where the line crosses a slanting row of the map, so that numbers keep apart.
  function label(values, step) {
    for (let i = 1; i < MAP.speeds - 1; i++) {
      const column = map_axis(MAP.load, MAP.loads).map((_, j) => values[j * MAP.speeds + i]);
      const j = column.findIndex((v, k) => k > 0 && column[k - 1] >= step && v < step);
      if (j < 1 || (i + j) % 3 !== 0) continue;
      const part = (column[j - 1] - step) / (column[j - 1] - column[j]);
      under.append('text').attr('class', 'contour').attr('x', along(i)).attr('y', up(j - 1 + part)).attr('dy', '0.35em').attr('text-anchor', 'middle').text(step);
      return;
    }
  }
  function draw(metres, a) {
    clear(under);
    const us = a.us, values = metres.map((m) => m / way_unit(us)), steps = STEPS[us ? 'us' : 'metric'];
    const make = contours().size([MAP.speeds, MAP.loads]);
    steps.forEach((step, i) => under.append('path').attr('class', `level l${i}`).attr('d', outline(make.contour(values, step))));
    under.append('rect').attr('class', 'frame').attr('x', b.left).attr('y', b.top).attr('width', b.right - b.left).attr('height', b.bottom - b.top);
    const rule = make.contour(values, a.value.rule_distance);
    under.append('path').attr('class', 'rule').attr('d', open_lines(rule, along, up));
    for (const step of steps.slice(1)) label(values, step);
    axes(us);
  }
  function point(speed_kmh, share, kept) {
    clear(over);
    const dot = (p, cls) => over.append('circle').attr('class', cls).attr('r', 7).attr('cx', x(clamp(p[0], MAP.speed))).attr('cy', y(clamp(p[1], MAP.load)));
    if (kept) dot(kept, 'kept');
    dot([speed_kmh, share], 'now');
  }
  return { draw, point };
}

const clamp = (v, [low, high]) => Math.min(high, Math.max(low, v));

// The contour without the stretches that only run along the frame.
function open_lines(shape, along, up) {
  const rim = ([i, j]) => i <= 0.5 || j <= 0.5 || i >= MAP.speeds - 0.5 || j >= MAP.loads - 0.5;
  let path = '';
  for (const polygon of shape.coordinates)
    for (const ring of polygon)
      for (let k = 1; k < ring.length; k++) {
        if (rim(ring[k - 1]) && rim(ring[k])) continue;
        const [a, c] = [ring[k - 1], ring[k]].map(([i, j]) => `${along(inside(i, MAP.speeds)).toFixed(1)} ${up(inside(j, MAP.loads)).toFixed(1)}`);
        path += `M${a}L${c}`;
      }
  return path;
}

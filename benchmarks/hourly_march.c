/* The scheme of specgen/physics/heat_moisture/march.py in C, as a floor for the speed of the compiled Python.
   The same arrays, the same order of sums; the constants come from the Python modules as constants.h. */

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "constants.h"

typedef struct {
    long n, hours, offers, gap_count, watched_count, parts;
    double *temps, *ys;
    const double *tables, *suctions, *heats, *exponents;
    const long *links;
    const double *spans, *films;
    const long *takes;
    const double *gaps, *outside, *inside, *emits, *airs, *offered;
    const long *steps;
    const unsigned char *staged;
    const long *watched, *layers;
    double *seen_t, *seen_y, *layer_water, *taken, *tally;
} Wall;

typedef struct {
    long *at;
    double *share, *vapor, *water, *heat, *before, *carried, *lower, *diagonal, *upper, *left, *flows;
    double passed[11];
} Work;

typedef struct { double liquid, liquid_y, open, open_t, open_y, lead, lead_y; } Pores;

static inline double least(double a, double b) { return a < b ? a : b; }
static inline double most_of(double a, double b) { return a > b ? a : b; }

static void vapor_state(const Wall *w, Work *k)
{
    for (long i = 0; i < w->n; i++) {
        double place = (w->ys[i] - LOWEST) * STEPS;
        long at = (long)place;
        at = at < 0 ? 0 : at > POINTS - 2 ? POINTS - 2 : at;
        double share = place - at;
        double rise = w->suctions[at + 1] - w->suctions[at];
        double s = w->suctions[at] + share * rise;
        double kelvin = w->temps[i], t = kelvin - T0;
        double a = t >= 0.0 ? WATER_A : ICE_A, b = (t >= 0.0 ? WATER_B : ICE_B) + t;
        double pulls = s > 0.0 ? 1.0 / (KELVIN * kelvin) : 0.0, pulled = pulls * s;
        double pa = PRESSURE_AT_ZERO * exp(a * t / b - pulled);
        k->at[i] = at;
        k->share[i] = share;
        k->vapor[3 * i] = pa;
        k->vapor[3 * i + 1] = pa * (a * (b - t) / (b * b) + pulled / kelvin);
        k->vapor[3 * i + 2] = -pa * pulls * STEPS * rise;
    }
}

static void stored(const Wall *w, Work *k)
{
    for (long i = 0; i < w->n; i++) {
        double y = w->ys[i], water = 0.0, slope = 0.0, dry = 0.0;
        if (w->films[i] > 0.0 && y < FILM_SPAN) {
            water = y > 0.0 ? w->films[i] * (1.0 - y / FILM_SPAN) : w->films[i];
            slope = y > 0.0 ? -w->films[i] / FILM_SPAN : 0.0;
        }
        for (long side = i > 0 ? i - 1 : 0; side < (i + 1 < w->n - 1 ? i + 1 : w->n - 1); side++) {
            long m = w->links[side];
            if (m < 0)
                continue;
            const double *low = w->tables + 4 * (m * POINTS + k->at[i]);
            double half = 0.5 * w->spans[side], rise = low[4] - low[0];
            water += half * (low[0] + k->share[i] * rise);
            slope += half * STEPS * rise;
            dry += half * w->heats[m];
        }
        double t = w->temps[i] - T0;
        k->water[2 * i] = water;
        k->water[2 * i + 1] = slope;
        k->heat[3 * i] = (dry + CW * water) * t;
        k->heat[3 * i + 1] = dry + CW * water;
        k->heat[3 * i + 2] = CW * slope * t;
    }
}

static inline Pores pores(const double *low, double share, double exponent, double kelvin)
{
    double bend = exponent / REFERENCE, warmth = 1.0 + bend * (kelvin - REFERENCE);
    double liquid_y = low[5] - low[1], open_y = low[6] - low[2], lead_y = low[7] - low[3];
    double at_20 = low[2] + share * open_y;
    Pores p = {low[1] + share * liquid_y, STEPS * liquid_y, at_20 * warmth, at_20 * bend,
               STEPS * open_y * warmth, low[3] + share * lead_y, STEPS * lead_y};
    return p;
}

static void materials(const Wall *w, Work *k, double dt)
{
    long known = -1;
    Pores a, b;
    for (long i = 0; i < w->n - 1; i++) {
        long m = w->links[i], j = i + 1;
        if (m < 0) {
            known = -1;
            continue;
        }
        const double *table = w->tables + 4 * m * POINTS;
        a = m != known ? pores(table + 4 * k->at[i], k->share[i], w->exponents[m], w->temps[i]) : b;
        b = pores(table + 4 * k->at[j], k->share[j], w->exponents[m], w->temps[j]);
        known = m;
        const double *v1 = k->vapor + 3 * i, *v2 = k->vapor + 3 * j;
        double t1 = w->temps[i], t2 = w->temps[j];
        double over = dt / w->spans[i], half = 0.5 * over;
        double mean = half * (a.open + b.open), fall = v1[0] - v2[0], thrust = half * fall;
        double gv = mean * fall;
        double gv_t1 = mean * v1[1] + thrust * a.open_t, gv_y1 = mean * v1[2] + thrust * a.open_y;
        double gv_t2 = -mean * v2[1] + thrust * b.open_t, gv_y2 = -mean * v2[2] + thrust * b.open_y;
        double gl = over * (a.liquid - b.liquid), gl_y1 = over * a.liquid_y, gl_y2 = -over * b.liquid_y;
        double lead = half * (a.lead + b.lead), drop = t1 - t2, middle = 0.5 * (t1 + t2) - T0;
        double hv = L0 + CV * middle, hl = CW * middle, turn = 0.5 * (gv * CV + gl * CW), drawn = half * drop;
        double g = gv + gl, q = lead * drop + gv * hv + gl * hl;
        double q_t1 = lead + gv_t1 * hv + turn, q_y1 = drawn * a.lead_y + gv_y1 * hv + gl_y1 * hl;
        double q_t2 = -lead + gv_t2 * hv + turn, q_y2 = drawn * b.lead_y + gv_y2 * hv + gl_y2 * hl;
        double own[4] = {gv_t1, gv_y1 + gl_y1, q_t1, q_y1}, other[4] = {gv_t2, gv_y2 + gl_y2, q_t2, q_y2};
        k->left[2 * i] += g;
        k->left[2 * j] -= g;
        k->left[2 * i + 1] += q;
        k->left[2 * j + 1] -= q;
        for (int c = 0; c < 4; c++) {
            k->diagonal[4 * i + c] += own[c];
            k->upper[4 * i + c] = other[c];
            k->diagonal[4 * j + c] -= other[c];
            k->lower[4 * j + c] = -own[c];
        }
    }
}

typedef struct { double kelvin, pa, k_flow, pa_flow, total, whole, per_pa; } Air;

static inline Air gap_air(const double *gap, double flow, const double *t, const double *pa, const double *air)
{
    Air a;
    a.per_pa = 1.0 / (GAS_CONSTANT_VAPOR * air[0]);
    a.total = 2.0 * gap[1] + flow * RHO_CP;
    a.whole = 2.0 * gap[0] + flow * a.per_pa;
    a.kelvin = (gap[1] * (t[0] + t[1]) + flow * RHO_CP * air[0]) / a.total;
    a.pa = (gap[0] * (pa[0] + pa[1]) + flow * a.per_pa * air[1]) / a.whole;
    a.k_flow = RHO_CP * (air[0] - a.kelvin) / a.total;
    a.pa_flow = a.per_pa * (air[1] - a.pa) / a.whole;
    return a;
}

static void exchange(const double *gap, const double *t, const double *pa, const double *air, double out[3])
{
    double width = gap[5] > 0.0 ? gap[4] / gap[3] : 0.0, rise = GRAVITY * gap[3] / R_AIR;
    double lightest = (STANDARD_ATMOSPHERE - LIGHTER * air[1]) / air[0];
    for (int turn = 0; turn < 2; turn++) {
        Air a = gap_air(gap, out[0], t, pa, air);
        double lightness = STANDARD_ATMOSPHERE - LIGHTER * a.pa;
        double net = rise * (lightest - lightness / a.kelvin) + air[2], size = fabs(net), drive = least(size, gap[7]);
        double root = sqrt(gap[5] * gap[5] + 4.0 * gap[6] * drive) + (gap[5] > 0.0 ? 0.0 : 1.0);
        double steep = size < gap[7] ? width / root * rise * (net > 0.0 ? 1.0 : -1.0) : 0.0;
        double by_k = steep * lightness / (a.kelvin * a.kelvin), by_pa = steep * LIGHTER / a.kelvin;
        double back = most_of(1.0 - by_k * a.k_flow - by_pa * a.pa_flow, 0.5);
        double now = width * 2.0 * drive / (gap[5] + root) + gap[8];
        out[1] = by_k * gap[1] / a.total / back;
        out[2] = by_pa * gap[0] / a.whole / back;
        out[0] = most_of(out[0] + (now - out[0]) / back, 0.0);
    }
}

static void open_gaps(const Wall *w, Work *k, double dt, int held, const double *airs)
{
    for (long i = 0; i < w->n - 1; i++) {
        if (w->links[i] >= 0)
            continue;
        long x = -1 - w->links[i];
        const double *gap = w->gaps + 9 * x, *air = airs + 3 * x, *t = w->temps + i;
        double pa[2] = {k->vapor[3 * i], k->vapor[3 * i + 3]}, out[3] = {k->flows[x], 0.0, 0.0};
        if (!held)
            exchange(gap, t, pa, air, out);
        k->flows[x] = out[0];
        Air a = gap_air(gap, out[0], t, pa, air);
        double k_t = gap[1] / a.total + a.k_flow * out[1], k_pa = a.k_flow * out[2];
        double pa_pa = gap[0] / a.whole + a.pa_flow * out[2], beta = dt * gap[0], h = dt * gap[1];
        double hv = L0 + CV * (a.kelvin - T0), wave = dt * gap[2] * SIGMA;
        double cube[2] = {t[0] * t[0] * t[0], t[1] * t[1] * t[1]}, r = wave * (cube[0] * t[0] - cube[1] * t[1]);
        double g_t = -beta * a.pa_flow * out[1], own = beta * (1.0 - pa_pa), cross = -beta * pa_pa, warm = g_t * hv;
        for (int side = 0; side < 2; side++) {
            long at = i + side, other = i + 1 - side;
            double g = beta * (pa[side] - a.pa), with = g * CV - h;
            double q = h * (t[side] - a.kelvin) + (side ? -r : r) + g * hv;
            double q_t = h + 4.0 * wave * cube[side] + with * k_t + warm;
            double q_cross_t = with * k_t + warm - 4.0 * wave * cube[1 - side];
            double q_own = with * k_pa + own * hv, q_cross = with * k_pa + cross * hv;
            const double *v = k->vapor + 3 * at, *o = k->vapor + 3 * other;
            double *d = k->diagonal + 4 * at, *beside = (side ? k->lower : k->upper) + 4 * at;
            k->left[2 * at] += g;
            k->left[2 * at + 1] += q;
            d[0] += g_t + own * v[1];
            d[1] += own * v[2];
            d[2] += q_t + q_own * v[1];
            d[3] += q_own * v[2];
            beside[0] = g_t + cross * o[1];
            beside[1] = cross * o[2];
            beside[2] = q_cross_t + q_cross * o[1];
            beside[3] = q_cross * o[2];
            k->passed[2] -= g;
            k->passed[5] += fabs(g);
            k->passed[8] -= q;
            k->passed[10] += fabs(q);
        }
    }
}

static void faces(const Wall *w, Work *k, double dt, const double *outer, const double *inner)
{
    for (int side = 0; side < 2; side++) {
        long i = side == 0 ? 0 : w->n - 1;
        const double *face = side == 0 ? outer : inner, *v = k->vapor + 3 * i;
        double kelvin = w->temps[i], beta = dt * face[3], hv = L0 + CV * (0.5 * (face[0] + kelvin) - T0);
        double cube = kelvin * kelvin * kelvin, g = beta * (face[1] - v[0]);
        double g_t = -beta * v[1], g_y = -beta * v[2], emits = w->emits[side];
        double dry = face[2] * (face[0] - kelvin) + face[4] + emits * (face[5] - SIGMA * cube * kelvin);
        double q = dt * dry + g * hv;
        k->left[2 * i] -= g;
        k->left[2 * i + 1] -= q;
        k->diagonal[4 * i] -= g_t;
        k->diagonal[4 * i + 1] -= g_y;
        k->diagonal[4 * i + 2] -= g_t * hv + 0.5 * g * CV - dt * (face[2] + 4.0 * emits * SIGMA * cube);
        k->diagonal[4 * i + 3] -= g_y * hv;
        k->passed[side] += g;
        k->passed[5] += fabs(g);
        k->passed[6 + side] += q;
        k->passed[10] += fabs(q);
    }
}

static void waters(const Wall *w, Work *k, double dt, double air_k, const double *offer)
{
    for (long i = 0; i < w->n; i++) {
        long at = k->at[i];
        double rise = w->suctions[at + 1] - w->suctions[at], s = w->suctions[at] + k->share[i] * rise;
        double most = w->takes[i] >= 0 ? offer[w->takes[i]] : 0.0;
        int some = TAKING * s <= most;
        double g = some ? TAKING * s : most, slope = some ? TAKING * STEPS * rise : 0.0;
        int rain = i == 0 && g > 0.0;
        double h = CW * ((rain ? air_k : w->temps[i]) - T0);
        g *= dt;
        slope *= dt;
        k->left[2 * i] -= g;
        k->left[2 * i + 1] -= g * h;
        k->diagonal[4 * i + 1] -= slope;
        k->diagonal[4 * i + 3] -= slope * h;
        if (!rain)
            k->diagonal[4 * i + 2] -= g * CW;
        k->passed[3] += g;
        k->passed[4] += dt * most;
        k->passed[9] += g * h;
        k->passed[5] += fabs(g);
        k->passed[10] += fabs(g * h);
    }
}

static void assemble(const Wall *w, Work *k, double dt, int held, long hour)
{
    vapor_state(w, k);
    stored(w, k);
    for (long i = 0; i < w->n; i++) {
        k->left[2 * i] = k->water[2 * i] - k->before[2 * i];
        k->left[2 * i + 1] = k->heat[3 * i] - k->before[2 * i + 1];
        k->diagonal[4 * i] = 0.0;
        k->diagonal[4 * i + 1] = k->water[2 * i + 1];
        k->diagonal[4 * i + 2] = k->heat[3 * i + 1];
        k->diagonal[4 * i + 3] = k->heat[3 * i + 2];
    }
    memset(k->passed, 0, sizeof k->passed);
    const double *outer = w->outside + 6 * hour;
    materials(w, k, dt);
    open_gaps(w, k, dt, held, w->airs + 3 * w->gap_count * hour);
    faces(w, k, dt, outer, w->inside + 6 * hour);
    waters(w, k, dt, outer[0], w->offered + w->offers * hour);
}

static int solve(long n, Work *k)
{
    double *left = k->left, *upper = k->upper, e = 0.0, f = 0.0, g = 0.0, h = 0.0, x = 0.0, y = 0.0;
    for (long i = 0; i < n; i++) {
        const double *o = k->diagonal + 4 * i, *l = k->lower + 4 * i;
        double *u = upper + 4 * i;
        double a = o[0] - l[0] * e - l[1] * g, b = o[1] - l[0] * f - l[1] * h;
        double c = o[2] - l[2] * e - l[3] * g, d = o[3] - l[2] * f - l[3] * h;
        double r = left[2 * i] - l[0] * x - l[1] * y, q = left[2 * i + 1] - l[2] * x - l[3] * y;
        double whole = a * d - b * c;
        if (whole == 0.0 || whole != whole)
            return 0;
        whole = 1.0 / whole;
        left[2 * i] = x = whole * (d * r - b * q);
        left[2 * i + 1] = y = whole * (a * q - c * r);
        e = whole * (d * u[0] - b * u[2]);
        f = whole * (d * u[1] - b * u[3]);
        g = whole * (a * u[2] - c * u[0]);
        h = whole * (a * u[3] - c * u[1]);
        u[0] = e;
        u[1] = f;
        u[2] = g;
        u[3] = h;
    }
    for (long i = n - 2; i >= 0; i--) {
        const double *u = upper + 4 * i;
        double r = left[2 * i] - u[0] * x - u[1] * y;
        left[2 * i + 1] = y = left[2 * i + 1] - u[2] * x - u[3] * y;
        left[2 * i] = x = r;
    }
    return 1;
}

static inline double stopped(double old, double new, double bend)
{
    if (old > bend + BEHIND && new < bend)
        return bend - BEHIND;
    if (old < bend - BEHIND && new > bend)
        return bend + BEHIND;
    return new;
}

static void moved(const Wall *w, Work *k, const double *offer, double part)
{
    for (long i = 0; i < w->n; i++) {
        w->temps[i] -= most_of(least(part * k->left[2 * i], MOST_KELVIN), -MOST_KELVIN);
        double old = w->ys[i];
        double new = old - most_of(least(part * k->left[2 * i + 1], MOST_POTENTIAL), -MOST_POTENTIAL);
        if (w->films[i] > 0.0)
            new = stopped(old, stopped(old, new, FILM_SPAN), 0.0);
        if (w->takes[i] >= 0 && offer[w->takes[i]] > 0.0)
            new = stopped(old, new, offer[w->takes[i]] / (TAKING * SCALE));
        w->ys[i] = most_of(least(new, HIGHEST), LOWEST);
    }
}

static int turns(const Wall *w, Work *k, double dt, long hour)
{
    const double *offer = w->offered + w->offers * hour;
    double off_before = 0.0;
    for (int turn = 0; turn < MOST_TURNS; turn++) {
        assemble(w, k, dt, turn > FREE, hour);
        double most = 0.0;
        for (long i = 0; i < w->n; i++) {
            double off = most_of(fabs(k->left[2 * i]) / MASS_CLOSED, fabs(k->left[2 * i + 1]) / HEAT_CLOSED);
            if (!(off <= most))
                most = off;
        }
        if (most <= 1.0)
            return 1;
        w->tally[12] += 1.0;
        double part = turn > 7 && most > off_before ? 0.5 : 1.0;
        off_before = most;
        if (!solve(w->n, k))
            return 0;
        moved(w, k, offer, part);
    }
    return 0;
}

static double *row(double **from, long count)
{
    double *out = *from;
    *from += count;
    return out;
}

/* All hours; 0, or the hour from which no step could be solved, counted from 1. */
long march(Wall *w)
{
    long n = w->n, ended = 0;
    double *all = calloc(30 * n + w->gap_count + 1, sizeof(double)), *from = all;
    Work work = {calloc(n, sizeof(long)), row(&from, n), row(&from, 3 * n), row(&from, 2 * n), row(&from, 3 * n),
                 row(&from, 2 * n), row(&from, 2 * n), row(&from, 4 * n), row(&from, 4 * n), row(&from, 4 * n),
                 row(&from, 2 * n), row(&from, w->gap_count + 1), {0}};
    Work *k = &work;
    double *start_t = malloc(n * sizeof(double)), *start_y = malloc(n * sizeof(double)), last = 0.0;
    double *took = malloc((w->offers + 1) * sizeof(double));
    memcpy(start_t, w->temps, n * sizeof(double));
    memcpy(start_y, w->ys, n * sizeof(double));
    vapor_state(w, k);
    stored(w, k);
    double first_water = 0.0, first_heat = 0.0;
    for (long i = 0; i < n; i++) {
        first_water += k->water[2 * i];
        first_heat += k->heat[3 * i];
    }
    for (long hour = 0; hour < w->hours && !ended; hour++) {
        const double *offer = w->offered + w->offers * hour;
        double whole = HOUR / w->steps[hour], dt = whole, done = 0.0;
        while (done < HOUR - 1e-6) {
            dt = least(dt, HOUR - done);
            int stages = w->staged[hour] && dt == whole ? 2 : 1, solved = 0;
            double ahead = stages == 2 ? FIRST_STAGE : 1.0, came[11] = {0.0};
            for (long i = 0; i < n; i++) {
                double back_t = start_t[i], back_y = start_y[i];
                start_t[i] = w->temps[i];
                start_y[i] = w->ys[i];
                k->before[2 * i] = k->water[2 * i] - k->carried[2 * i];
                k->before[2 * i + 1] = k->heat[3 * i] - k->carried[2 * i + 1];
                if (dt == last) {
                    w->temps[i] += GUESS * ahead * (w->temps[i] - back_t);
                    w->ys[i] += GUESS * ahead * (w->ys[i] - back_y);
                }
            }
            last = dt;
            memset(took, 0, w->offers * sizeof(double));
            for (int stage = 0; stage < stages; stage++) {
                for (long i = 0; stage == 1 && i < n; i++) {
                    k->before[2 * i] += ON * (k->water[2 * i] - k->before[2 * i] - k->left[2 * i]);
                    k->before[2 * i + 1] += ON * (k->heat[3 * i] - k->before[2 * i + 1] - k->left[2 * i + 1]);
                    w->temps[i] += GUESS * (w->temps[i] - start_t[i]);
                    w->ys[i] += GUESS * (w->ys[i] - start_y[i]);
                }
                solved = turns(w, k, ahead * dt, hour);
                if (!solved)
                    break;
                double lasts = stage + 1 < stages ? ON : 1.0;
                for (int j = 0; j < 11; j++)
                    came[j] += lasts * k->passed[j];
                for (long i = 0; i < n; i++) {
                    if (w->takes[i] < 0)
                        continue;
                    long at = k->at[i];
                    double s = w->suctions[at] + k->share[i] * (w->suctions[at + 1] - w->suctions[at]);
                    took[w->takes[i]] += lasts * ahead * dt * least(TAKING * s, offer[w->takes[i]]);
                }
            }
            if (!solved) {
                memcpy(w->temps, start_t, n * sizeof(double));
                memcpy(w->ys, start_y, n * sizeof(double));
                vapor_state(w, k);
                stored(w, k);
                w->tally[15] += 1.0;
                dt *= 0.25;
                last = 0.0;
                if (dt < SHORTEST) {
                    ended = hour + 1;
                    break;
                }
                continue;
            }
            done += dt;
            memcpy(k->carried, k->left, 2 * n * sizeof(double));
            for (int j = 0; j < 11; j++)
                w->tally[j] += came[j];
            for (long j = 0; j < w->offers; j++)
                w->taken[w->offers * hour + j] += took[j];
            w->tally[11] += 1.0;
            dt = least(2.0 * dt, whole);
        }
        for (long j = 0; j < w->watched_count; j++) {
            w->seen_t[w->watched_count * hour + j] = w->temps[w->watched[j]];
            w->seen_y[w->watched_count * hour + j] = w->ys[w->watched[j]];
        }
        for (long i = 0; i < n - 1; i++) {
            long m = w->links[i];
            if (m < 0)
                continue;
            for (long j = i; j < i + 2; j++) {
                const double *low = w->tables + 4 * (m * POINTS + k->at[j]);
                w->layer_water[w->parts * hour + w->layers[i]] +=
                    0.5 * w->spans[i] * (low[0] + k->share[j] * (low[4] - low[0]));
            }
        }
    }
    for (long i = 0; i < n; i++) {
        w->tally[13] += k->water[2 * i];
        w->tally[14] += k->heat[3 * i];
    }
    w->tally[13] -= first_water;
    w->tally[14] -= first_heat;
    free(all);
    free(work.at);
    free(start_t);
    free(start_y);
    free(took);
    return ended;
}

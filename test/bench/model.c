/* The preload model in plain C, one sample at a time, to compare the engine with.
 *
 * Usage: model NUMBERS.json SAMPLES SEED. Reads the flat list of numbers of one scenario and prints the counts as JSON.
 * cc -O3 -march=native model.c -lm
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

enum { REVERSED, PLAY, LIGHT, TARGET, HEAVY, BIND, CLASSES };
#define MAX_VARIABLES 256
#define MAX_MEMBERS 64
#define MAX_STATES 16
#define MAX_TERMS 16
#define MAX_DEGREE 16
#define ZONES 8

typedef struct { int kind; double a, b, low, high, below, mass; } Variable;
typedef struct { double centre, half, compliance[MAX_DEGREE], limit[MAX_DEGREE]; int nc, nl; } Curve;
typedef struct { int ring, mate, smoothing, ring_zone, mate_zone; double mate_alpha, measured, raceway; } Seat;
typedef struct {
  double balls, ball_mm, ring_alpha, ball_alpha, inner_mm, outer_mm;
  int clearance, inner_ratio, outer_ratio, stand_out, balls_zone;
  Curve inner_curve, outer_curve;
  Seat inner, outer;
} Bearing;
typedef struct { int length, zone; double factor, alpha, clamp; } Member;
typedef struct { int n, variable[MAX_TERMS]; double factor[MAX_TERMS]; } Rise;
typedef struct { int n, zone[ZONES]; Rise rise[ZONES]; } State;
typedef struct { double distance, stiffness, limit; } Constants;

static Variable variables[MAX_VARIABLES];
static Member members[MAX_MEMBERS];
static Bearing bearings[2];
static State states[MAX_STATES];
static int n_variables, n_members, n_states, clamp_variable, clamp_holds, pressure_limited;
static double compliance, low_n, high_n, bind_n;

/* ---- the numbers, in order ---- */
static char *cursor;
static double number(void) {
  while (*cursor && !strchr("-0123456789", *cursor)) cursor++;
  return strtod(cursor, &cursor);
}
static int whole(void) { return (int)number(); }
static int list(double *out) {
  int n = whole();
  for (int i = 0; i < n; i++) out[i] = number();
  return n;
}
static void read_curve(Curve *c) {
  c->centre = number();
  c->half = number();
  c->nc = list(c->compliance);
  c->nl = list(c->limit);
}
static void read_seat(Seat *s) {
  s->ring = whole(); s->mate = whole(); s->smoothing = whole(); s->ring_zone = whole(); s->mate_zone = whole();
  s->mate_alpha = number(); s->measured = number(); s->raceway = number();
}
static void read_bearing(Bearing *b) {
  b->balls = number(); b->ball_mm = number();
  b->clearance = whole(); b->inner_ratio = whole(); b->outer_ratio = whole(); b->stand_out = whole();
  b->ring_alpha = number(); b->ball_alpha = number(); b->inner_mm = number(); b->outer_mm = number();
  b->balls_zone = whole();
  read_curve(&b->inner_curve); read_curve(&b->outer_curve);
  read_seat(&b->inner); read_seat(&b->outer);
}
static void read_model(void) {
  n_variables = whole();
  for (int i = 0; i < n_variables; i++) {
    Variable *v = &variables[i];
    v->kind = whole(); v->a = number(); v->b = number(); v->low = number(); v->high = number();
    v->below = number(); v->mass = number();
  }
  n_members = whole();
  for (int i = 0; i < n_members; i++) {
    Member *m = &members[i];
    m->length = whole(); m->factor = number(); m->zone = whole(); m->alpha = number(); m->clamp = number();
  }
  read_bearing(&bearings[0]); read_bearing(&bearings[1]);
  clamp_variable = whole(); clamp_holds = whole(); compliance = number();
  low_n = number(); high_n = number(); bind_n = number(); pressure_limited = whole();
  n_states = whole();
  for (int s = 0; s < n_states; s++) {
    State *st = &states[s];
    st->n = whole();
    for (int r = 0; r < st->n; r++) {
      st->rise[r].n = whole();
      for (int t = 0; t < st->rise[r].n; t++) { st->rise[r].variable[t] = whole(); st->rise[r].factor[t] = number(); }
    }
    int zones = whole();
    for (int z = 0; z < zones; z++) st->zone[z] = whole();
  }
}

/* ---- random numbers: xoshiro256++ (Blackman and Vigna) through the inverse normal AS 241 (Wichura) ---- */
static uint64_t rng[4];
static inline uint64_t rotl(uint64_t x, int k) { return (x << k) | (x >> (64 - k)); }
static inline double uniform(void) {
  uint64_t result = rotl(rng[0] + rng[3], 23) + rng[0], t = rng[1] << 17;
  rng[2] ^= rng[0]; rng[3] ^= rng[1]; rng[1] ^= rng[2]; rng[0] ^= rng[3]; rng[2] ^= t; rng[3] = rotl(rng[3], 45);
  return ((result >> 12) + 0.5) * 0x1p-52;
}
static void seed_rng(uint64_t x) {
  for (int i = 0; i < 4; i++) {
    uint64_t z = (x += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    rng[i] = z ^ (z >> 31);
  }
}
static inline double inverse_normal(double p) {
  double q = p - 0.5;
  if (fabs(q) <= 0.425) {
    double r = 0.180625 - q * q;
    return q * (((((((2509.0809287301227 * r + 33430.57558358813) * r + 67265.7709270087) * r + 45921.95393154987) * r +
           13731.69376550946) * r + 1971.5909503065513) * r + 133.14166789178438) * r + 3.3871328727963665) /
           (((((((5226.495278852854 * r + 28729.085735721943) * r + 39307.89580009271) * r + 21213.794301586597) * r +
           5394.196021424751) * r + 687.1870074920579) * r + 42.31333070160091) * r + 1);
  }
  double r = sqrt(-log(q < 0 ? p : 1 - p)), z;
  if (r <= 5) {
    r -= 1.6;
    z = (((((((7.7454501427834140764e-4 * r + 2.27238449892691845833e-2) * r + 2.41780725177450611770e-1) * r +
        1.27045825245236838258) * r + 3.64784832476320460504) * r + 5.76949722146069140550) * r +
        4.63033784615654529590) * r + 1.42343711074968357734) /
        (((((((1.05075007164441684324e-9 * r + 5.47593808499534494600e-4) * r + 1.51986665636164571966e-2) * r +
        1.48103976427480074590e-1) * r + 6.89767334985100004550e-1) * r + 1.67638483018380384940) * r +
        2.05319162663775882187) * r + 1);
  } else {
    r -= 5;
    z = (((((((2.01033439929228813265e-7 * r + 2.71155556874348757815e-5) * r + 1.24266094738807843860e-3) * r +
        2.65321895265761230930e-2) * r + 2.96560571828504891230e-1) * r + 1.78482653991729133580) * r +
        5.46378491116411436990) * r + 6.65790464350110377720) /
        (((((((2.04426310338993978564e-15 * r + 1.42151175831644588870e-7) * r + 1.84631831751005468180e-5) * r +
        7.86869131145613259100e-4) * r + 1.48753612908506148525e-2) * r + 1.36929880922735805310e-1) * r +
        5.99832206555887937690e-1) * r + 1);
  }
  return q < 0 ? -z : z;
}
static inline double draw(const Variable *v) {
  switch (v->kind) {
    case 0: return v->a;
    case 1: return v->a + (v->b - v->a) * uniform();
    case 2: return v->a + v->b * inverse_normal(uniform());
    default: return v->a + v->b * inverse_normal(v->below + v->mass * uniform());
  }
}

/* ---- the model ---- */
static inline double horner(const double *c, int n, double t) {
  double value = c[n - 1];
  for (int i = n - 2; i >= 0; i--) value = value * t + c[i];
  return value;
}
static inline Constants bearing_constants(const Bearing *b, const double *v) {
  double fi = v[b->inner_ratio], fo = v[b->outer_ratio];
  double ti = (fi - b->inner_curve.centre) / b->inner_curve.half, to = (fo - b->outer_curve.centre) / b->outer_curve.half;
  double c = horner(b->inner_curve.compliance, b->inner_curve.nc, ti) +
             horner(b->outer_curve.compliance, b->outer_curve.nc, to);
  Constants k = {(fi + fo - 1) * b->ball_mm, b->balls / (c * sqrt(c)), INFINITY};
  if (pressure_limited) {
    k.limit = c * fmin(horner(b->inner_curve.limit, b->inner_curve.nl, ti),
                       horner(b->outer_curve.limit, b->outer_curve.nl, to));
  }
  return k;
}
static inline double fit_loss(const Seat *s, double sense, double ring_alpha, const double *v, const double *rise) {
  double mate = v[s->mate] * s->measured * (1 + s->mate_alpha * rise[s->mate_zone]);
  double ring = v[s->ring] * (1 + ring_alpha * rise[s->ring_zone]);
  double interference = sense * (mate - ring) - v[s->smoothing];
  return interference > 0 ? s->raceway * interference : 0;
}
static inline double radial_clearance(const Bearing *b, const double *v, const double *rise) {
  double alpha = b->ring_alpha;
  return v[b->clearance] + alpha * (b->outer_mm * rise[b->outer.ring_zone] - b->inner_mm * rise[b->inner.ring_zone]) -
         2 * b->ball_alpha * b->ball_mm * rise[b->balls_zone] - fit_loss(&b->inner, 1, alpha, v, rise) -
         fit_loss(&b->outer, -1, alpha, v, rise);
}
typedef struct { double force, slope; } Contact;
static inline Contact contact(double e, double play, double squeeze, double r2, double a, double k) {
  double x = play + e, s = sqrt(r2 + x * x), per = 1 / s, t = (e * (e + 2 * play) + squeeze) / (s + a);
  double root = k * sqrt(t), sine = x * per;
  return (Contact){root * t * sine, root * (1.5 * sine * sine + t * per * (1 - sine * sine))};
}
static double solve_pair(double offset, double wa, double wb, const Constants *a, const Constants *b, double *xa,
                         double *xb) {
  double pa = wa > 0 ? sqrt(wa) : 0, pb = wb > 0 ? sqrt(wb) : 0, excess = offset - pa - pb;
  *xa = pa;
  *xb = pb;
  if (!(excess > 0)) return 0;
  double aa = a->distance, ab = b->distance, qa = wa < 0 ? -wa : 0, qb = wb < 0 ? -wb : 0;
  double ra = aa * aa - wa, rb = ab * ab - wb, sa = (pa + 0.5 * excess) / aa, sb = (pb + 0.5 * excess) / ab;
  double ratio = (a->stiffness * sa * sa * sqrt(sa)) / (b->stiffness * sb * sb * sqrt(sb));
  double low = 0, high = excess, e = excess * (5 + ratio) / (6 + 6 * ratio), force = 0;
  for (int i = 0; i < 200; i++) {
    Contact fa = contact(e, pa, qa, ra, aa, a->stiffness), fb = {0, 0};
    double eb = excess - e - compliance * fa.force;
    if (eb > 0) fb = contact(eb, pb, qb, rb, ab, b->stiffness);
    double difference = fa.force - fb.force;
    if (difference > 0) high = e; else low = e;
    double step = difference / (fa.slope + fb.slope * (1 + compliance * fa.slope)), next = e - step;
    int inside = next > low && next < high;
    if (!inside) next = 0.5 * (low + high);
    force = inside ? fa.force - fa.slope * step : fa.force;
    int done = (inside && fabs(step) <= 1e-6 * e) || difference == 0 || next == e;
    e = next;
    if (done) break;
  }
  *xa = pa + e;
  *xb = pb + excess - e - compliance * force;
  return force;
}
static double displacement_under(double force, double a, double w, double k) {
  double root = cbrt(force / k), tau = root * root, tau3 = tau * tau * tau;
  double least = w < 0 ? sqrt(a * a - w) - a : 0, t = least + tau;
  while (t * t * t * (w + t * (2 * a + t)) < tau3 * (a + t) * (a + t)) t *= 2;
  for (int i = 0; i < 60; i++) {
    double x2 = w + t * (2 * a + t), s = a + t;
    double step = (t * t * t * x2 - tau3 * s * s) / (t * t * (3 * x2 + 2 * t * s) - 2 * tau3 * s);
    t = t - step > least ? t - step : 0.5 * (t + least);
    if (fabs(step) <= 1e-9 * t) break;
  }
  return sqrt(fmax(w + t * (2 * a + t), 0));
}
static inline double deflection(double x, double a, double w) { return (x * x - w) / (sqrt(a * a - w + x * x) + a); }

static int evaluate(const State *state, const double *v, const Constants *ka, const Constants *kb, double *preload) {
  double each[ZONES], rise[ZONES];
  for (int r = 0; r < state->n; r++) {
    double sum = -20;
    for (int t = 0; t < state->rise[r].n; t++) sum += state->rise[r].factor[t] * v[state->rise[r].variable[t]];
    each[r] = sum;
  }
  for (int z = 0; z < ZONES; z++) rise[z] = each[state->zone[z]];
  double offset = v[bearings[0].stand_out] + v[bearings[1].stand_out];
  double clamp = clamp_variable >= 0 ? v[clamp_variable] : 0;
  for (int m = 0; m < n_members; m++) {
    const Member *p = &members[m];
    offset += p->factor * v[p->length] * (1 + p->alpha * rise[p->zone] - p->clamp * clamp);
  }
  double ha = 0.5 * radial_clearance(&bearings[0], v, rise), hb = 0.5 * radial_clearance(&bearings[1], v, rise);
  double wa = ha * (2 * ka->distance - ha), wb = hb * (2 * kb->distance - hb), xa, xb;
  double force = solve_pair(fabs(offset), wa, wb, ka, kb, &xa, &xb);
  if (clamp_holds && offset > 0 && force > clamp) {
    force = clamp;
    xa = displacement_under(force, ka->distance, wa, ka->stiffness);
    xb = displacement_under(force, kb->distance, wb, kb->stiffness);
  }
  *preload = offset < 0 ? -force : force;
  if (force >= bind_n) return BIND;
  if (pressure_limited && (deflection(xa, ka->distance, wa) > ka->limit || deflection(xb, kb->distance, wb) > kb->limit))
    return BIND;
  if (*preload < 0) return REVERSED;
  if (*preload == 0) return PLAY;
  if (*preload < low_n) return LIGHT;
  return *preload <= high_n ? TARGET : HEAVY;
}

static double seconds(clockid_t clock) {
  struct timespec t;
  clock_gettime(clock, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int argc, char **argv) {
  if (argc != 4) return 2;
  FILE *file = fopen(argv[1], "rb");
  if (!file) return 2;
  char *text = calloc(1 << 20, 1);
  if (!fread(text, 1, (1 << 20) - 1, file)) return 2;
  fclose(file);
  cursor = text;
  read_model();
  long samples = strtol(argv[2], NULL, 10), outcomes[MAX_STATES][CLASSES] = {{0}}, good = 0;
  double sum[MAX_STATES] = {0}, square[MAX_STATES] = {0}, v[MAX_VARIABLES];
  seed_rng(strtoull(argv[3], NULL, 10));
  double wall = seconds(CLOCK_MONOTONIC), cpu = seconds(CLOCK_PROCESS_CPUTIME_ID);
  for (long i = 0; i < samples; i++) {
    for (int k = 0; k < n_variables; k++) v[k] = draw(&variables[k]);
    Constants ka = bearing_constants(&bearings[0], v), kb = bearing_constants(&bearings[1], v);
    int every = 1;
    for (int s = 0; s < n_states; s++) {
      double preload;
      int outcome = evaluate(&states[s], v, &ka, &kb, &preload);
      outcomes[s][outcome]++;
      sum[s] += preload;
      square[s] += preload * preload;
      every &= outcome == TARGET;
    }
    good += every;
  }
  wall = seconds(CLOCK_MONOTONIC) - wall;
  cpu = seconds(CLOCK_PROCESS_CPUTIME_ID) - cpu;
  struct rusage usage;
  getrusage(RUSAGE_SELF, &usage);
  printf("{\"samples\":%ld,\"wallS\":%.6f,\"cpuS\":%.6f,\"good\":%ld,\"peakMemoryMB\":%.1f,\"outcomes\":[", samples, wall,
         cpu, good, usage.ru_maxrss / 1024.0);
  for (int s = 0; s < n_states; s++)
    printf("%s[%ld,%ld,%ld,%ld,%ld,%ld]", s ? "," : "", outcomes[s][0], outcomes[s][1], outcomes[s][2], outcomes[s][3],
           outcomes[s][4], outcomes[s][5]);
  printf("],\"meanPreloadN\":[");
  for (int s = 0; s < n_states; s++) printf("%s%.9g", s ? "," : "", sum[s] / samples);
  printf("],\"sdPreloadN\":[");
  for (int s = 0; s < n_states; s++)
    printf("%s%.9g", s ? "," : "", sqrt(square[s] / samples - sum[s] / samples * (sum[s] / samples)));
  printf("]}\n");
  return 0;
}

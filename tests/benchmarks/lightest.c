/* The sets that cover one day and weigh least: every set of the mainstays is tried, but for those of which it is known that
   nothing makes them both cover the day and weigh less than the limit. Compiled by proving.py.

   Candidates stand by how often each is picked, most often first; the first `mainstays` of them are taken whole or not at all,
   those after in parts: whichever brings most of what is lacking for its weight, as much of it as lacks. Whole ones weigh no less. */
#include <stdint.h>
#include <string.h>

#define WORDS 16
#define MOST 512
#define DEEPEST 64

typedef struct {
    int count, mainstays, needed, room, found, keep_lightest;
    long visits, most_visits;
    const uint64_t *fruit;
    const double *weight;
    double limit;
    int set[DEEPEST];
    int *sets;      /* (room, DEEPEST) members, -1 after the last; the last one may be taken in parts */
    double *parts;  /* (room,) how much of the last one */
} Search;

static int brings(const Search *s, int at, const uint64_t *covered) {
    int seasons = 0;
    for (int k = 0; k < WORDS; k++)
        seasons += __builtin_popcountll(s->fruit[(long)at * WORDS + k] & ~covered[k]);
    return seasons;
}

static void note(Search *s, int depth, int last, double part, double weight) {
    if (s->keep_lightest) {
        s->limit = weight;
        s->found = 0;
    }
    if (s->found == s->room) return;
    int *set = s->sets + (long)s->found * DEEPEST;
    memcpy(set, s->set, sizeof(int) * depth);
    set[depth] = last;
    set[depth + 1] = -1;
    s->parts[s->found++] = part;
}

static void look(Search *s, int start, int depth, const uint64_t *covered, int seasons, double weight) {
    if (++s->visits > s->most_visits || (s->found == s->room && !s->keep_lightest)) return;
    if (depth > DEEPEST - 2) s->visits = s->most_visits + 1; /* no room to go on: not all are tried */
    if (s->visits > s->most_visits) return;
    int gain[MOST], lacking = s->needed - seasons, best = -1, brought = 0;
    double a_weight[MOST + 1]; /* seasons for a weight, at the best, by those from here on */
    double most = 0.0;
    for (int at = s->mainstays; at < s->count; at++) {
        int more = brings(s, at, covered);
        if (more > lacking) more = lacking;
        if (more > most * s->weight[at]) most = more / s->weight[at], best = at, brought = more;
    }
    if (best >= 0) {
        double part = (double)lacking / brought, whole = weight + part * s->weight[best];
        if (whole < s->limit) note(s, depth, best, part, whole);
    }
    a_weight[s->mainstays] = most;
    for (int at = s->mainstays - 1; at >= start; at--) {
        gain[at] = brings(s, at, covered);
        double told = gain[at] / s->weight[at];
        a_weight[at] = told > a_weight[at + 1] ? told : a_weight[at + 1];
        if (gain[at] >= lacking && weight + s->weight[at] < s->limit) note(s, depth, at, 1.0, weight + s->weight[at]);
    }
    for (int at = start; at < s->mainstays; at++) {
        double left = s->limit - weight;
        if (a_weight[at] * left < lacking) break;
        if (gain[at] >= lacking || gain[at] + a_weight[at + 1] * (left - s->weight[at]) < lacking) continue;
        uint64_t with_it[WORDS];
        for (int k = 0; k < WORDS; k++) with_it[k] = covered[k] | s->fruit[(long)at * WORDS + k];
        s->set[depth] = at;
        look(s, at + 1, depth + 1, with_it, seasons + gain[at], weight + s->weight[at]);
    }
}

/* How many sets lighter than *limit were found, or, to keep the lightest, one, and its weight in *limit; -1 where not all were tried. */
int lightest(int count, int mainstays, const uint64_t *fruit, const double *weight, int needed, double *limit, int keep_lightest,
             long most_visits, int room, int *sets, double *parts) {
    Search s = {count, mainstays, needed, room, 0, keep_lightest, 0, most_visits, fruit, weight, *limit, {0}, sets, parts};
    uint64_t nothing[WORDS] = {0};
    if (count > MOST) return -1;
    look(&s, 0, 0, nothing, 0, 0.0);
    *limit = s.limit;
    return s.visits > most_visits ? -1 : s.found;
}

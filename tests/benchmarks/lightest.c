/* The sets that cover one day and weigh least: every set of the mainstays is tried, but for those of which it is known that
   nothing makes them both cover the day and weigh less than the limit. Compiled by proving.py.

   Candidates stand by how often each is picked, most often first; the first `mainstays` of them are taken whole or not at all,
   those after in parts: whichever brings most of what is lacking for its weight first, then the next, as if no two of them were ever
   picked in the same season. Whole ones weigh no less. */
#include <stdint.h>

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
    int *sets;      /* (room, DEEPEST) members, -1 after the last */
    double *parts;  /* (room, DEEPEST) how much of each */
} Search;

static int brings(const Search *s, int at, const uint64_t *covered) {
    int seasons = 0;
    for (int k = 0; k < WORDS; k++)
        seasons += __builtin_popcountll(s->fruit[(long)at * WORDS + k] & ~covered[k]);
    return seasons;
}

static void note(Search *s, int depth, const int *beside, const double *part, int besides, double weight) {
    if (s->keep_lightest) {
        s->limit = weight;
        s->found = 0;
    }
    if (s->found == s->room) return;
    if (depth + besides >= DEEPEST) {
        s->visits = s->most_visits + 1; /* no room to tell it: not all are tried */
        return;
    }
    int *set = s->sets + (long)s->found * DEEPEST;
    double *parts = s->parts + (long)s->found++ * DEEPEST;
    for (int k = 0; k < depth; k++) set[k] = s->set[k], parts[k] = 1.0;
    for (int k = 0; k < besides; k++) set[depth + k] = beside[k], parts[depth + k] = part[k];
    set[depth + besides] = -1;
}

/* Those taken in parts, until nothing lacks or it weighs too much. */
static void fill(Search *s, int depth, int *gain, int lacking, double weight) {
    int beside[DEEPEST], besides = 0;
    double part[DEEPEST];
    while (weight < s->limit && besides < DEEPEST) {
        int best = -1;
        double most = 0.0;
        for (int at = s->mainstays; at < s->count; at++)
            if (gain[at] > most * s->weight[at]) most = gain[at] / s->weight[at], best = at;
        if (best < 0) return;
        double some = gain[best] < lacking ? 1.0 : (double)lacking / gain[best];
        weight += some * s->weight[best];
        lacking -= gain[best];
        gain[best] = 0;
        beside[besides] = best, part[besides++] = some;
        if (lacking <= 0) {
            if (weight < s->limit) note(s, depth, beside, part, besides, weight);
            return;
        }
    }
    if (weight < s->limit) s->visits = s->most_visits + 1;
}

/* `most`: seasons for a weight, at the best, that those taken in parts can bring. */
static void look(Search *s, int start, int depth, const uint64_t *covered, int seasons, double weight, double most) {
    if (++s->visits > s->most_visits || (s->found == s->room && !s->keep_lightest)) return;
    if (depth > DEEPEST - 2) s->visits = s->most_visits + 1; /* no room to go on: not all are tried */
    if (s->visits > s->most_visits) return;
    int gain[MOST], lacking = s->needed - seasons;
    double a_weight[MOST + 1], left = s->limit - weight; /* seasons for a weight, at the best, by those from here on */
    if (most * left > lacking) {
        most = 0.0;
        for (int at = s->mainstays; at < s->count; at++) {
            gain[at] = brings(s, at, covered);
            if (gain[at] > lacking) gain[at] = lacking;
            if (gain[at] > most * s->weight[at]) most = gain[at] / s->weight[at];
        }
        if (most * left > lacking) fill(s, depth, gain, lacking, weight);
    }
    a_weight[s->mainstays] = most;
    for (int at = s->mainstays - 1; at >= start; at--) {
        gain[at] = brings(s, at, covered);
        double told = gain[at] / s->weight[at], whole = 1.0;
        a_weight[at] = told > a_weight[at + 1] ? told : a_weight[at + 1];
        if (gain[at] >= lacking && weight + s->weight[at] < s->limit) note(s, depth, &at, &whole, 1, weight + s->weight[at]);
    }
    for (int at = start; at < s->mainstays; at++) {
        left = s->limit - weight;
        if (a_weight[at] * left < lacking) break;
        if (gain[at] >= lacking || gain[at] + a_weight[at + 1] * (left - s->weight[at]) < lacking) continue;
        uint64_t with_it[WORDS];
        for (int k = 0; k < WORDS; k++) with_it[k] = covered[k] | s->fruit[(long)at * WORDS + k];
        s->set[depth] = at;
        look(s, at + 1, depth + 1, with_it, seasons + gain[at], weight + s->weight[at], most);
    }
}

/* How many sets lighter than *limit were found, or, to keep the lightest, one, and its weight in *limit; -1 where not all were tried. */
int lightest(int count, int mainstays, const uint64_t *fruit, const double *weight, int needed, double *limit, int keep_lightest,
             long most_visits, int room, int *sets, double *parts) {
    Search s = {count, mainstays, needed, room, 0, keep_lightest, 0, most_visits, fruit, weight, *limit, {0}, sets, parts};
    uint64_t nothing[WORDS] = {0};
    if (count > MOST) return -1;
    look(&s, 0, 0, nothing, 0, 0.0, 1e9);
    *limit = s.limit;
    return s.visits > most_visits ? -1 : s.found;
}

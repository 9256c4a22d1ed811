/* Plays lines of "TIME EVENT KEY" from standard input into the exported unit; prints its effects. */
#include <inttypes.h>
#include <stdio.h>
#include "exported.c"

static void print_effect(void *context, const fe_effect *e)
{
    int n;
    (void)context;
    if (e->kind == FE_CONTACTS) {
        printf("%" PRId64 " contacts %d\n", e->at, e->closed);
    } else if (e->kind == FE_SILENCE) {
        printf("%" PRId64 " silence\n", e->at);
    } else {
        const fe_voice *voice = &fe_voices[e->voice];
        printf("%" PRId64 " sound %d", e->at, voice->repeat);
        for (n = 0; n < voice->count; n++)
            printf(" %" PRId32 ":%" PRId64, voice->segments[n].hz_milli, voice->segments[n].duration);
        printf("\n");
    }
}

int main(void)
{
    fe_unit unit;
    int64_t now;
    int event;
    char key;
    fe_start(&unit, print_effect, 0);
    while (scanf("%" SCNd64 " %d %c", &now, &event, &key) == 3) {
        if (event < 0) { /* a new story */
            fe_wake(&unit, now);
            printf("state %d %d\n", unit.state, unit.attentive);
            fe_start(&unit, print_effect, 0);
        } else {
            fe_handle(&unit, event, key, now);
        }
    }
    return 0;
}

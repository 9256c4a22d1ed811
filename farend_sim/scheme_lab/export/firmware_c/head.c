/* Plain C99, no dynamic memory. Times are microseconds since the unit was powered and idle.
 *
 * fe_start(&unit, emit, context), then whenever something happens fe_handle(&unit, event, key, now),
 * and fe_wake(&unit, now) no later than fe_deadline(&unit). Effects come out of `emit`.
 */
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

typedef int64_t fe_us;
#define FE_NONE INT64_MAX
#define FE_NOTHING (-1)

enum { FE_KEY, FE_BUTTON, FE_SWITCH, FE_CUT, FE_POWER };
enum { FE_CONTACTS, FE_SOUND, FE_SILENCE };

typedef struct { int32_t hz_milli; fe_us duration; } fe_segment;
typedef struct { const fe_segment *segments; int count; bool repeat; fe_us duration; } fe_voice;
typedef struct { int state; int action; } fe_cell;
typedef struct {
    int input; const char *prefix; int prefix_keys; int argument_digits; int checked_from;
    int length; uint32_t taken_in; int reply; bool keeps_attention; bool confirmed;
    fe_us hold; fe_us shortest; fe_us longest;
} fe_command;
typedef struct { int kind; fe_us at; int closed; int voice; } fe_effect;
typedef void (*fe_emit)(void *context, const fe_effect *effect);

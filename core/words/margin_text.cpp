#include "core/words/margin_text.h"

#include "core/words/words.h"

namespace tapwright {

Message load_of(const Margin& margin) {
    if (margin.basis == Basis::at_least) return Message("at least {load}", {{"load", margin.load}});
    return Message(margin.load);
}

Message headroom_of(const Margin& margin) {
    if (!margin.headroom) return Message("unknown");
    if (margin.is_open_ended) return Message("at most {headroom}", {{"headroom", rounded_down(*margin.headroom)}});
    return Message(rounded_down(*margin.headroom));
}

}  // namespace tapwright

// Pages, cards and plain words.
#pragma once

#include <imgui.h>

#include <optional>
#include <string>
#include <string_view>

#include "core/words/statement.h"
#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

// A scrolling page that fills the space left, with margins. Everything drawn while it lives is inside it.
// With `height` (pixels) it takes that much only. `scroll_to`: where it begins in this frame, in pixels, wherever it
// or the page before it in this place had been scrolled to.
class Page {
public:
    Page(Context& context, std::string_view name, float height = 0, std::optional<float> scroll_to = {});
    ~Page();
    Page(const Page&) = delete;
    Page& operator=(const Page&) = delete;

private:
    Context& context_;
};

// A raised area around what is drawn while it lives. A tone other than plain puts a coloured edge at its left side.
class Card {
public:
    explicit Card(Context& context, Tone tone = Tone::plain);
    ~Card();
    Card(const Card&) = delete;
    Card& operator=(const Card&) = delete;

private:
    Context& context_;
    Tone tone_;
    ImDrawListSplitter splitter_;
    ImVec2 start_;
    float width_, old_region_max_, old_work_max_;
};

// A paragraph that wraps.
void paragraph(Context& context, const Message& text, TextSize size = TextSize::body);
void quiet_paragraph(Context& context, const Message& text);

// A heading inside a page, with space above it.
void section_title(Context& context, const Message& text);

// A deciding number: huge, with its unit and a line that says what it is. A tone adds its shape and `word`.
void big_number(Context& context, std::string_view name, const Message& value, const Message& unit, const Message& what,
                Tone tone = Tone::plain, const Message& word = {});

// A word in its tone's colours with its shape. Returns nothing; it cannot be touched.
void tone_badge(Context& context, Tone tone, const Message& word);

// A sentence that matters: shape, sentence, tone's fill, over the whole width.
void tone_box(Context& context, std::string_view name, Tone tone, const Message& sentence);

// What is known, and behind a touch why: the reasons open below, and close again. Marks NAME and, where there are
// reasons, NAME.why.
void statement_box(Context& context, std::string_view name, Tone tone, const Statement& statement);

// An empty place: what would be here, and what to do first. Put a primary button after it.
void empty_state(Context& context, Shape shape, const Message& title, const Message& what_to_do);

// A bar that fills as work goes on, what is being done, and a way out. `share` 0..1.
// Returns: true when Cancel was tapped.
bool progress(Context& context, std::string_view name, const Message& what, float share);

}  // namespace tapwright::ui

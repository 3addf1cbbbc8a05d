// How the frame is laid out, on a phone, on its side, on a tablet, on a desk.
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "core/job/field_text.h"
#include "core/session/session.h"
#include "ui/app/app.h"
#include "ui/app/band.h"
#include "ui/app/focus.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr float side_units = 196, side_margin = 12, beside_units = 360, list_share = 0.44F;
constexpr float beside_from = 1200;  // a window narrower than that has no room for a third pane
constexpr float slot_share = 0.48F;  // of the header's line, on a phone on its side
constexpr float header_top = 4, foot_units = 68, foot_side_units = 176;

// Of the list of places: as wide as its words need in any language.
float side_width(Context& context) {
    return std::max(context.px(side_units), place_list_width(context) + 2 * context.px(side_margin));
}

// A line at the right edge of the pane being drawn.
void edge_line(const Context& context, float x, float height) {
    ImGui::GetWindowDrawList()->AddLine(ImVec2(x, 0), ImVec2(x, height), ink(context.theme.line),
                                        std::max(1.0F, std::floor(context.scale)));
}

void begin_root(const Context& context) {
    ImGui::SetNextWindowPos(ImVec2(0, 0));
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, ink(context.theme.page));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    ImGui::Begin("##window", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
}

}  // namespace

void App::draw(Context& context) {
    context.session = session_;
    context.read_only = session_ && !session_->can_write();
    if (session_) context.words = context.words.in(length_units(session_->job()));
    words_ = context.words;
    press_ = context.gesture.presses();
    let_notices_go(context);
    shortcuts(context);
    begin_root(context);
    Screen& front = *stack().back().screen;
    list_opened_ = false;
    turn_to(context, front);
    shows_load_ = has_places() && parts_.strip_line && front.shows_load(context) &&
                  (!parts_.strip_shown || parts_.strip_shown(context));
    has_beside_ = context.wide && shows_load_ && parts_.beside &&
                  ImGui::GetIO().DisplaySize.x >= beside_from * context.scale &&
                  (!parts_.beside_shown || parts_.beside_shown(context, place_));
    context.has_beside = has_beside_;
    if (context.wide)
        draw_wide(context);
    else if (context.low)
        draw_rail_at_side(context);
    else
        draw_bar_at_bottom(context);
    turn_to(context, front);
    draw_whole_message(context);
    if (parts_.over_page && session_) parts_.over_page(context);
    ImGui::End();
}

void App::turn_to(Context& context, Screen& screen) {
    if (parts_.turn_to && session_) parts_.turn_to(context, screen);
}

Message App::title_of(Context& context, Screen& screen) {
    turn_to(context, screen);
    return screen.title(context);
}

// What the scrolling page of the place in hand begins with, and what it remembers, whatever the window's shape.
std::string App::page_name(std::size_t depth) const {
    return "page." + std::string(place_key(place_)) + "." + std::to_string(depth);
}

// ---- the arrangements ----

void App::draw_bar_at_bottom(Context& context) {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    const float bar = has_places() ? place_bar_height(context, window.x) : 0;
    draw_list_and_page(context, 0, window.x, window.y - bar);
    if (!has_places()) return;
    ImGui::SetCursorPos(ImVec2(0, window.y - bar));
    const InPart part(context.marks, PartKind::places, "places");
    Band band(context, "places", 0, bar, context.theme.card, 0, 0);
    const int place = place_bar(context, place_);
    if (place >= 0) context.requests.show(static_cast<PlaceId>(place));
}

void App::draw_rail_at_side(Context& context) {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    const float rail = has_places() ? place_rail_width(context) : 0;
    if (has_places()) {
        const InPart part(context.marks, PartKind::places, "places");
        Band band(context, "rail", rail, window.y, context.theme.card, 0, 0);
        const int place = place_rail(context, place_);
        if (place >= 0) context.requests.show(static_cast<PlaceId>(place));
    }
    draw_list_and_page(context, rail, window.x - rail, window.y);
}

void App::draw_wide(Context& context) {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    if (has_places()) draw_side(context);
    const float left = has_places() ? side_width(context) : 0;
    const float beside = has_beside_ ? context.px(beside_units) : 0;
    draw_list_and_page(context, left, window.x - left - beside, window.y);
    if (has_beside_) draw_beside(context, window.x - beside);
}

// The page in front, and where there is room the one it came from as a list at its left.
void App::draw_list_and_page(Context& context, float left, float width, float height) {
    Stack& screens = stack();
    const std::size_t count = screens.size();
    float list = 0;
    if (context.paired && count > 1) {
        list = std::floor(width * list_share);
        Screen& screen = *screens[count - 2].screen;
        turn_to(context, screen);
        ImGui::SetCursorPos(ImVec2(left, 0));
        const InPart part(context.marks, PartKind::list, "list");
        Band band(context, "pane.list", list, height, context.theme.page, 0, 0);
        const std::size_t opened = context.requests.opened.size();
        draw_pane(context, {"list", page_name(count - 1), Message(), height}, screen);
        list_opened_ = context.requests.opened.size() > opened;
        edge_line(context, left + list - 1, height);
    }
    draw_in_front(context, left + list, width - list, height);
}

// A page that comes to the front stands where it was left there, whatever it went through beside another one.
void App::draw_in_front(Context& context, float left, float width, float height) {
    Stack& screens = stack();
    Shown& shown = screens.back();
    const Message back_to = screens.size() > 1 ? title_of(context, *screens[screens.size() - 2].screen) : Message();
    turn_to(context, *shown.screen);
    ImGui::SetCursorPos(ImVec2(left, 0));
    Band band(context, "pane.front", width, height, context.theme.page, 0, 0);
    Pane pane{"header", page_name(screens.size()), back_to, height, true};
    if (in_front_.lock() != shown.screen) pane.scroll_to = shown.scroll, pane.focus = shown.focus;
    in_front_ = shown.screen;
    shown.scroll = draw_pane(context, pane, *shown.screen);
    if (focus_ != 0) shown.focus = focus_;
    if (context.wide) edge_line(context, left + width - 1, height);
}

void App::draw_side(Context& context) {
    const float height = ImGui::GetIO().DisplaySize.y;
    ImGui::SetCursorPos(ImVec2(0, 0));
    const InPart part(context.marks, PartKind::places, "places");
    Band band(context, "side", side_width(context), height, context.theme.card, side_margin, 16);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, context.px(4)));
    const int place = place_list(context, place_);
    if (place >= 0) context.requests.show(static_cast<PlaceId>(place));
    space(context, 12);
    if (session_ && parts_.job_name &&
        button(context, "app.job", parts_.job_name(*session_), {.shape = Shape::more, .most_lines = 2}))
        context.requests.open(parts_.job_page());
    for (const HeaderAction& action : header_actions())
        if (button(context, action.name, action.what, {.enabled = action.enabled, .shape = action.shape}))
            act(context, action.name);
    ImGui::PopStyleVar();
    // What was saved stands in the corner that is free anyway.
    if (!kept_ || (shows_load_ && !has_beside_)) return;
    const float line = line_height(context, TextSize::body), free = height - context.px(16) - ImGui::GetCursorPosY();
    const int lines = std::min(4, static_cast<int>((free - line) / line) - 1);
    if (lines < 1) return;
    const float bar = line * static_cast<float>(lines + 1) + context.px(16);
    ImGui::SetCursorPosY(height - context.px(16) - bar);
    draw_kept(context, bar, lines);
}

void App::draw_beside(Context& context, float left) {
    const float height = ImGui::GetIO().DisplaySize.y;
    ImGui::SetCursorPos(ImVec2(left, 0));
    const InPart part(context.marks, PartKind::beside, "beside");
    Band band(context, "pane.beside", context.px(beside_units), height, context.theme.page, 0, 0);
    {
        Band strip(context, "strip", 0, 0, context.theme.card, measure::margin, 8);
        parts_.strip->draw(context);
    }
    const float free = height - ImGui::GetCursorPosY();
    draw_pane(context, {"beside", "page.beside", Message(), free}, *parts_.beside);
}

// ---- one pane ----

float App::draw_pane(Context& context, const Pane& pane, Screen& screen) {
    const ImVec2 at = ImGui::GetCursorPos();
    const float width = width_left();
    draw_header(context, pane, screen);
    float top = at.y + page_header_height(context) + 2 * context.px(header_top);
    // The strip's line is there for the whole of a page; with no strip a message takes its room from the page's end.
    const bool in_line = pane.in_front && !context.low;
    const bool with_slot = in_line && shows_load_ && !has_beside_;
    if (with_slot) {
        ImGui::SetCursorPos(ImVec2(at.x, top));
        top += context.px(measure::slot_height);
        const InPart part(context.marks, PartKind::strip, "strip");
        Band band(context, "strip", 0, context.px(measure::slot_height), context.theme.card, measure::margin, 0);
        draw_slot(context);
    }
    const float slot = context.px(measure::slot_height);
    const float message = in_line && !with_slot && !messages_.empty() ? slot : 0;
    const bool with_foot = pane.in_front && screen.has_foot(context);
    const float foot_height = with_foot && !context.low ? context.px(foot_units) : 0;
    const float foot_width = with_foot && context.low ? context.px(foot_side_units) : 0;
    const float left = pane.height - (top - at.y);
    if (foot_height > 0) draw_foot(context, pane, screen, {at.x, at.y + pane.height - foot_height, width, foot_height});
    if (foot_width > 0) draw_foot(context, pane, screen, {at.x + width - foot_width, top, foot_width, left});
    float scroll = 0;
    {
        ImGui::SetCursorPos(ImVec2(at.x, top));
        const InPart part(context.marks, PartKind::page, "page", pane.in_front);
        Band band(context, (pane.header + ".page").c_str(), width - foot_width,
                  std::max(1.0F, left - foot_height - message), context.theme.page, 0, 0);
        const ImVec2 corner = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
        mark_area(context, pane.header + ".room", {corner.x, corner.y, size.x, size.y + foot_height}, {});
        draw_page(context, pane, screen, size.y, scroll);
    }
    if (message > 0) {
        ImGui::SetCursorPos(ImVec2(at.x, at.y + pane.height - foot_height - message));
        const InPart part(context.marks, PartKind::messages, "messages");
        Band band(context, "messages", 0, message, context.theme.page, measure::margin, 0);
        draw_message(context, slot);
    }
    ImGui::SetCursorPos(at);
    return scroll;
}

void App::draw_page(Context& context, const Pane& pane, Screen& screen, float height, float& scroll) {
    Page page(context, pane.page, std::max(1.0F, height), pane.scroll_to);
    const bool comes = pane.in_front && (pane.scroll_to || std::exchange(focus_first_, false));
    if (comes) focus_page(pane.focus);
    screen.draw(context);
    scroll = ImGui::GetScrollY();
    if (!pane.in_front) return;
    focus_ = page_focus();
    // What it was left on may be gone.
    focus_first_ = comes && pane.focus != 0 && focus_ != pane.focus;
    if (focus_first_) context.requests.another_frame();
}

std::vector<HeaderAction> App::header_actions() const {
    std::vector<HeaderAction> actions;
    if (!session_) return actions;
    if (parts_.find) actions.push_back({"app.find", Message("Find"), Shape::search, true});
    if (!session_->can_write()) return actions;
    if (parts_.undo) actions.push_back({"app.undo", Message("Undo"), Shape::undo, true});
    if (parts_.redo && parts_.can_redo && parts_.can_redo(*session_))
        actions.push_back({"app.redo", Message("Redo"), Shape::redo, true});
    return actions;
}

void App::act(Context& context, std::string_view action) {
    if (action == "app.find") context.requests.open(parts_.find());
    if (action == "app.undo") context.requests.undo();
    if (action == "app.redo") context.requests.redo();
}

void App::draw_header(Context& context, const Pane& pane, Screen& screen) {
    const Message title = screen.title(context);
    const float key = page_header_height(context);
    std::vector<HeaderAction> actions;
    if (pane.in_front && !context.wide) actions = header_actions();
    HeaderOptions options{pane.back_to, actions};
    // Where no line is kept for the strip, what was saved stands where the title is; on its side a phone has the strip
    // and messages there too.
    const bool in_header = pane.in_front && !context.wide && (context.low || !shows_load_);
    const bool is_message = context.low && !messages_.empty();
    if (in_header && context.low && shows_load_) options.slot = std::floor(width_left() * slot_share);
    options.with_title = !(in_header && (is_message || (kept_ && !shows_load_)));
    const bool is_first = pane.in_front && pane.back_to.empty() && !context.wide && !context.low;
    if (is_first && session_ && parts_.job_name) options.job = parts_.job_name(*session_);
    const InPart part(context.marks, PartKind::header, "header", pane.in_front);
    if (!pane.in_front) options.level = 2;
    Band band(context, (pane.header + ".band").c_str(), 0, key + 2 * context.px(header_top), context.theme.page,
              measure::margin, header_top);
    const HeaderTouch touch = page_header(context, pane.header, title, options);
    if (touch.back) context.requests.back();
    if (touch.job) context.requests.open(parts_.job_page());
    if (touch.action >= 0) act(context, actions[static_cast<std::size_t>(touch.action)].name);
    if (!in_header || touch.slot.width <= 0) return;
    ImGui::SetCursorScreenPos(ImVec2(touch.slot.x, touch.slot.y));
    Band slot(context, "slot", touch.slot.width, touch.slot.height, context.theme.page, 0, 0);
    if (is_message)
        draw_message(context, key);
    else if (kept_)
        draw_kept(context, key, 1);
    else if (shows_load_ && context.low)
        parts_.strip_line(context, key);
}

void App::draw_foot(Context& context, const Pane& pane, Screen& screen, Area area) {
    const ImVec2 at = ImGui::GetCursorPos();
    ImGui::SetCursorPos(ImVec2(area.x, area.y));
    {
        const InPart part(context.marks, PartKind::foot, "foot", pane.in_front);
        Band band(context, (pane.header + ".foot").c_str(), area.width, area.height, context.theme.page,
                  context.low ? measure::gap : measure::margin, 6);
        context.in_foot = true;
        context.foot_upright = context.low;
        if (context.low)
            ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(context.px(measure::gap), context.px(measure::gap)));
        screen.draw_foot(context);
        if (context.low) ImGui::PopStyleVar();
        context.in_foot = context.foot_upright = false;
    }
    ImGui::SetCursorPos(at);
}

// ---- what takes turns in the strip's line ----

void App::draw_slot(Context& context) {
    const float height = ImGui::GetWindowHeight();
    if (!messages_.empty()) return draw_message(context, height);
    if (kept_) return draw_kept(context, height, 1);
    parts_.strip_line(context, height);
}

void App::draw_kept(Context& context, float height, int most_lines) {
    if (kept_bar(context, kept_->words, height, most_lines)) context.requests.after_frame([this] { kept_.reset(); });
}

// One at a time: the error before the note.
void App::draw_message(Context& context, float height) {
    const Notice& message = messages_.front();
    const MessageEvent event = message_bar(context, "message.0", message.tone, message.sentence, height);
    if (event == MessageEvent::dismiss)
        context.requests.after_frame([this] {
            if (!messages_.empty()) messages_.erase(messages_.begin());
        });
    if (event != MessageEvent::open) return;
    whole_ = message;
    whole_open_ = true;
    context.requests.another_frame();
}

void App::draw_whole_message(Context& context) {
    Sheet sheet(context, "message.whole", tone_word(whole_.tone), whole_open_);
    if (sheet) tone_box(context, "message.text", whole_.tone, whole_.sentence);
}

}  // namespace tapwright::ui

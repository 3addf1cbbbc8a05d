// Writes what is made from the command table: `write_pages man DATE OUT` and `write_pages completion OUT`.
#include <cstdio>
#include <fstream>
#include <string>
#include <string_view>

#include "platform/package/completion.h"
#include "platform/package/man_page.h"

int main(int count, char** arguments) {
    const std::string_view what = count > 1 ? arguments[1] : "";
    std::string page;
    if (what == "man" && count == 4) page = tapwright::package::man_page(arguments[2]);
    if (what == "completion" && count == 3) page = tapwright::package::bash_completion();
    if (page.empty()) {
        std::fputs("The call is: write_pages man DATE OUT, or write_pages completion OUT.\n", stderr);
        return 2;
    }
    std::ofstream out(arguments[count - 1], std::ios::binary);
    out << page << std::flush;
    if (!out)
        std::fprintf(stderr, "%s could not be written; name a file in a folder that exists.\n", arguments[count - 1]);
    return out ? 0 : 1;
}

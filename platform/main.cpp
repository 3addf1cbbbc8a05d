// tapwright COMMAND ... works on a job file; tapwright FILE opens the window on it.
#include "platform/cli/command.h"

int main(int count, char** words) {
    return tapwright::cli::run(std::vector<std::string>(words + 1, words + count));
}

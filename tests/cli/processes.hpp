#pragma once

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <string>
#include <vector>

#include "folder.hpp"

namespace runnel {

/// Starts `runnel ARGS` in the folder and does not wait for it.
inline pid_t start(const Folder& folder, std::vector<std::string> args) {
  args.insert(args.begin(), RUNNEL_PROGRAM);
  std::vector<char*> words;
  for (std::string& arg : args) words.push_back(arg.data());
  words.push_back(nullptr);
  const std::string where = folder.path("");
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child > 0) return child;
  const int nowhere = open("/dev/null", O_RDWR);
  dup2(nowhere, STDOUT_FILENO);
  dup2(nowhere, STDERR_FILENO);
  if (chdir(where.c_str()) == 0) execv(words[0], words.data());
  _exit(127);
}

inline int wait_for(pid_t child) {
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  return status;
}

/// Lets it run for so long, then kills it. @return whether it was still running.
inline bool kill_after(pid_t child, useconds_t microseconds) {
  usleep(microseconds);
  kill(child, SIGKILL);
  return WIFSIGNALED(wait_for(child));
}

}  // namespace runnel

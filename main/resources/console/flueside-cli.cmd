@echo off
rem The command line of Flueside. A program with windows has no console of its own: it writes to this one, and a batch file waits for it.
"%~dp0Flueside.exe" --cli %*
exit /b %ERRORLEVEL%

@echo off
rem Starts Fairturn with the first Java of 17 or newer there is: JAVA_HOME, then PATH, then the one that came with it.
rem Java options go into JDK_JAVA_OPTIONS. FAIRTURN_ARCHIVE=off: no start archive.
setlocal disableextensions
setlocal enableextensions disabledelayedexpansion
for %%i in ("%~dp0..") do set "HOME_FOLDER=%%~fi"
set "JAR=%HOME_FOLDER%\lib\fairturn.jar"
set "JAVA="
set "OLD="

if defined JAVA_HOME call :usable "%JAVA_HOME%"
if not defined JAVA for /f "delims=" %%j in ('where java 2^>nul') do if not defined JAVA call :usable "%%~dpj.."
if not defined JAVA call :usable "%HOME_FOLDER%\runtime"
if defined JAVA goto run
>&2 echo Fairturn needs Java 17 or newer, and neither JAVA_HOME nor PATH leads to one.%OLD% Install one, or set JAVA_HOME to the folder it is in.
exit /b 1

:run

rem A short run is over before the thorough compiler pays; a long one is not.
set "FLAGS=-XX:TieredStopAtLevel=1 -XX:+UseSerialGC"
if "%~1"=="serve" set "FLAGS="
rem What these throw away may not pile up.
if "%~1"=="batch" set "FLAGS=-XX:+UseParallelGC -Xms192m -Xmn128m"
if "%~1"=="archive" set "FLAGS=-XX:+UseParallelGC -Xms192m -Xmn128m"

rem From 19 on Java keeps a start archive up to date by itself, where it may write.
set "ARCHIVE="
if not "%FAIRTURN_ARCHIVE%"=="off" if %MAJOR% geq 19 set ARCHIVE=-XX:+AutoCreateSharedArchive "-XX:SharedArchiveFile=%HOME_FOLDER%\lib\fairturn-%VERSION%.jsa"

"%JAVA%" -Xshare:auto -Xlog:disable -Xlog:all=error:stderr %FLAGS% %ARCHIVE% -jar "%JAR%" %*
exit /b %ERRORLEVEL%

:usable
if not exist "%~1\bin\java.exe" exit /b
set "VERSION="
if exist "%~1\release" for /f "usebackq tokens=2 delims==" %%v in (`findstr /b "JAVA_VERSION=" "%~1\release"`) do set "VERSION=%%~v"
if not defined VERSION for /f "tokens=3" %%v in ('""%~1\bin\java.exe" -version 2^>^&1" ^| findstr /c:" version "') do if not defined VERSION set "VERSION=%%~v"
set "MAJOR=0"
for /f "tokens=1 delims=.-+_" %%m in ("%VERSION%") do set "MAJOR=%%m"
if %MAJOR% geq 17 (set "JAVA=%~1\bin\java.exe") else set "OLD=%OLD% Found and not used: %VERSION% in %~1."
exit /b

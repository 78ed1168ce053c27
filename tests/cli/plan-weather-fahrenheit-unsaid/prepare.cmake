use(tests/cli/base)
file(WRITE ${WORK}/weather.csv "date,tmax,tmin,rain [mm]
2027-07-01,88.3,61.2,0
2027-07-02,91.0,63.5,0
2027-07-03,86.9,60.1,0
")

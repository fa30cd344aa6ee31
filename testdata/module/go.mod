module example.test/study

go 1.26.0

require drystalk v0.0.0

replace drystalk => ../..

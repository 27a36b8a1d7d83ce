views.add("class", classView);

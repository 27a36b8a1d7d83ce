"""Given names that students and families in the United States often bear; common practice, no source.

Left out are those that are also words of a band's pages at the start of a line, such as
Mark, Will, May, Carol, Viola and Melody: they would be found where nobody is named.
"""

from __future__ import annotations

GIVEN_NAMES = frozenset(
    """
    Aaliyah Aaron Abby Abdul Abigail Adam Addison Adrian Adriana Ahmed Aidan Aiden Aisha Alan
    Alana Alejandra Alejandro Alex Alexa Alexander Alexandra Alexis Ali Alice Alicia Alina Alison
    Allison Alyssa Amanda Amelia Amina Amir Amy Ana Anastasia Andre Andrea Andrew Andy Angela
    Angelina Anh Anika Anita Anna Annabelle Anne Annie Anthony Antonio Arianna Ariel Arjun Arthur
    Arturo Asher Ashley Aubrey Audrey Ava Avery Barbara Beatriz Bella Ben Benjamin Bianca Blake
    Brandon Brayden Brenda Brendan Brian Brianna Brittany Brody Bruno Bryan Caden Caitlin
    Caleb Cameron Camila Camille Carla Carlos Carmen Caroline Carson Catherine Cecilia Cesar
    Charles Charlie Charlotte Chloe Chris Christina Christine Christopher Claire Clara Claudia
    Cody Cole Colin Connor Cristian Cynthia Daniel Daniela Danielle Darius David Deborah Declan
    Delia Dennis Derek Devin Devon Diana Diego Dmitri Dominic Donald Donna Dylan Eduardo
    Edward Eleanor Elena Eli Elias Elijah Elisa Elise Eliza Elizabeth Ella Ellen Ellie Emilia
    Emily Emma Emmanuel Enrique Eric Erica Erik Erin Esteban Esther Ethan Eva Evan Eve Evelyn
    Ezra Farah Fatima Felipe Felix Fernanda Fernando Fiona Francesca Francisco Frank Gabriel
    Gabriela Gabriella Gavin George Gianna Giovanni Giselle Gloria Grace Grayson Greta Guadalupe
    Gustavo Hailey Hannah Harper Harry Hassan Heather Hector Helen Helena Henry Hiro Hudson
    Hugo Ian Ibrahim Ibrahima Ignacio Imani Ines Ingrid Isaac Isabel Isabella Isabelle Isaiah
    Isla Ismael Israel Ivan Jack Jackson Jacob Jada Jaden Jake Jamal James Jamie Jane Janet
    Jared Jasmine Jason Javier Jay Jayden Jeff Jeffrey Jennifer Jeremiah Jeremy Jerome Jesse
    Jessica Jesus Jesús Jill Jimena Jing Joan Joanna Joaquin Joel John Johnny Jonah Jonathan
    Jordan Jorge Jose José Joseph Joshua Josiah Josue Juan Juana Julia Julian Juliana Julie Justin
    Kaitlyn Karen Karina Kate Katherine Kathleen Katie Kayla Keisha Keith Kelly Kelsey Kenji
    Kenneth Kevin Khadija Kiara Kim Kimberly Kyle Kylie Lakshmi Lamar Landon Laura Lauren Layla
    Leah Leila Leo Leon Leonardo Levi Liam Lila Lillian Lily Linda Lindsay Lisa Logan Lorenzo
    Louis Lucas Lucia Lucy Luis Luisa Lukas Luke Mackenzie Maddie Madeline Madison Makayla
    Malik Manuel Marco Marcos Marcus Margaret Maria Mariam Mariana Marie Marina Mario Marisol
    Martha Martina Mary Mateo Mathew Matteo Matthew Maya Megan Mei Melanie Melissa Mia
    Micah Michael Michelle Miguel Mike Mila Minh Miranda Mohamed Mohammed Molly Monica
    Morgan Muhammad Naomi Natalia Natalie Nathan Nathaniel Nevaeh Nia Nicholas Nick Nicolas
    Nicole Nina Noah Noelle Nora Oliver Olivia Omar Oscar Owen Pablo Paige Pamela Patricia
    Patrick Paul Paula Pedro Penelope Peter Peyton Philip Phoebe Priya Quinn Rachel Rafael Ramon
    Rania Raul Raymond Rebecca Reese Ricardo Richard Riley Robert Roberto Rodrigo Roger Rohan
     Ronald Rosa Rowan Ryan Sabrina Sadie Salma Sam Samantha Samira Samuel Sandra Santiago
    Sara Sarah Sean Sebastian Selena Serena Sergio Seth Shannon Sharon Shawn Shreya
     Simon Simone Sofia Sonia Sophia Sophie Stephanie Stephen Steven Susan Tamika
    Tara Taylor Teresa Theo Theodore Thomas Tiffany Tim Timothy Tova Tran Travis Trevor
    Tristan Tyler Valentina Valeria Vanessa Veronica Victor Victoria Vincent Vivian Walter Wesley
    William Wyatt Xavier Ximena Yara Yasmin Yolanda Yusuf Zachary Zahra Zainab Zara Zoe Zoey
    """.split()  # noqa: SIM905 - read as words
)
